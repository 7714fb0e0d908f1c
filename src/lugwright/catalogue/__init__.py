"""The catalogue: a folder of consoles planned together, and what a changed limit does to them.

============  ==============================================================================
module        what it does
============  ==============================================================================
``schema``    one model's result, and the settings all models are planned under
``keys``      what a result is made from, as one digest
``store``     results in files, each whole or not at all
``job``       one model planned: nothing that goes wrong with it reaches another
``engine``    many jobs: one after the other, on all cores, or on a cluster
``run``       a whole catalogue planned; goes on where it was stopped
``summary``   how each model ended, and what it takes to build
``impact``    what a changed limit or stock does to every model
``whatif``    one model of it: its proof taken over, or planned anew
``proofs``    whether a stored proof still holds, without a search
``question``  what the search sees of a model, as one digest
``mix``       how many panels of each model a month builds
``month``     what they take of the stock, and what nobody takes
============  ==============================================================================
"""
