"""Wire labels: one to wrap round each wire end, one tag for each piece, and the same as CSV.

``label_text``   what stands on the label of each wire end
``fitting``      text made to fit its line: smaller first, shortened last, numbers never lost
``wrap``         a label that is wrapped round a wire: text again and again, then a clear tail
``tag``          a flat tag with the QR code of the piece and the plan
``label_sheet``  ``wire-labels.pdf`` and ``wire-labels.csv``
"""
