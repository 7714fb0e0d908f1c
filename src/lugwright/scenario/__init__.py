"""What is wanted: the scenario a rigger writes, read into a console.

``load``             file to console: ``load_scenario``; start here
``console``          the console: what every later room works from
``brief``            what every later room is handed: console, limits, stock, holds, digests
``fields``           values with their units, as types of fields
``pattern_schema``   the pattern of an instrument; ``pattern_text`` to print
``way_schema``       a way of a device as written
``field_notes``      the note under each field, for schema and complaints
``schema``           the scenario as written
``library``          the instrument patterns that come with the program (``patterns/*.toml``)
``draft``            what could be read of a scenario that is at fault in places
``fitting_out``      patterns looked up, posts assigned to circuits
``devices``          the ways of a fitted instrument
``supplies``         circuits and where each gets its current; ``near_posts`` of devices
``signals``          signal circuits, and whose wire each sender's is; ``signal_checks``
``taken_from``       circuits taken from another: lamps from ignition
``purposes``         every post on a feed has a purpose, or the file is refused
``landings``         what comes aboard, and where its wires land
``load_pigtails``    loads at the end of a pigtail, and where they land
``supplied_wires``   pigtails and boat wires as the console has them
``placing``          mirroring, turning, rounding
``given_wires``      wires that are not cut from stock
``complaints``       faults of form in the reader's words
``cross_checks``     rules over several records; ``panel_complaints`` once limits are known
``purposes``         posts on a feed without a purpose, and devices that would be passed round
``device_checks``    faults inside one device: positions, ratings, petrol behind it
``device_words``     words that say key, switch, fuse and the like
``way_supplies``     faults between ways and circuits: what would pass round a device
``stop_checks``      stop circuits and lanyards
``dimmer_checks``    dimmers and the lamps behind them
``mains_checks``     no AC behind this panel
``left_out``         what cannot be said yet
``rims``             hole, rim and body of a pattern, and whether they fit
``mounts``           rectangular holes, screws and the plate's own holes, placed and rounded
``plate_pieces``     what stands before, in and behind the plate
``geometry_checks``  faults of the layout that need no limit
``straps``           ready-made straps between instruments, and their faults
``metal_checks``     faults of the metal behind the panel; ``pigtail_checks``, ``lead_checks``
``panel_checks``     faults only the limits and the stock can show
``waiver_places``    whether the place of a waiver is there
``holds``            what is held beforehand, read once
``leaving_out``      a scenario without some of its instruments
``new``              a starter scenario
``json_schema``      the scenario's JSON Schema
"""
