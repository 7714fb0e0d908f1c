"""Paper: what the bench, the buyer and the next person get to read.

Rows and words
--------------
``words``       numbers, colours, ends and verdicts as a person reads them
``wire_facts``  what is written beside a wire wherever it is drawn or labelled
``sides``       what a name says of its side, against where it lies
``cut_shapes``  what is cut for an instrument, and its rim, as exact shapes
``rows_bench``  what is cut, crimped, stacked, landed and capped, row by row
``rows_steps``  the steps, each with a sentence of its own
``rows_sums``   drops, buy list, fuses, totals and limits, row by row
``rows_ways``   devices: what each way carries, what is live in which state
``rows``        all of them gathered: the one set of rows behind every output
``before``      what sheets can be made of before anything is planned

Sheets
------
``layout``      plain text: tables, wrapped lines, headings
``stack_text``  the stacks as a table from nut to base
``crimp_text``  dies, and the crimp list
``step_text``   the steps, runs of like ones told together
``build_list``  the printed build list; ``list_sheet`` its file
``csv_tables``  one CSV per kind of row; ``table_files`` their names, ``csv_text`` their form
``plan_json``   ``plan.json`` written and read; ``digest`` the mark a plan and its paper share
``hubs_table``  hubs side by side, row by row; ``hubs_page`` their page
``plot``        one thing against another, drawn; ``svg_parts`` plain elements for it
``looks``       how a drawing writes its looks: as attributes, or shared by its page
``shown``       a plan as its sheets show it: texts, rows and drawings (``drawn``), each made once
``sheets``      every sheet of a plan folder, and the module that makes it; ``paper_size`` its paper

Rooms: ``job``, ``labels``, ``measuring``, ``overview``, ``stacks``, ``test_sheet`` and ``workbook``
are sheets; ``drawing``, ``pages`` and ``paper`` what they are made with.

Folders
-------
``folder``        a plan folder and what lies in it
``whole_folder``  a folder put in its place whole or not at all
``kept``          what a person put into it, and how that outlives the next writing
``one_file``      one file a person named

Nothing here decides anything; a plan comes in and text goes out.
"""
