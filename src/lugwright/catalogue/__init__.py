"""The catalogue: a folder of consoles planned together, and what a changed limit does to them.

===========  ==============================================================================
module       what it does
===========  ==============================================================================
``schema``   one model's result, and the settings all models are planned under
``keys``     what a result is made from, as one digest
``store``    results in files, each whole or not at all
``job``      one model planned: nothing that goes wrong with it reaches another
``engine``   many jobs: one after the other, on all cores, or on a cluster
``run``      a whole catalogue planned; goes on where it was stopped
===========  ==============================================================================
"""
