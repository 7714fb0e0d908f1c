"""The test sheet: what a meter must show before power and at key-on, and room for what it shows.

``words``             pass bands and readings as a person reads them
``csv_form``          the sheet as CSV, to type readings into
``report``            what ``lugwright readings`` says of them
``page``              every line in the order of work, with room to write
``test_sheet_files``  the files of the sheet
"""
