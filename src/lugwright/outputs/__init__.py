"""Paper: what the bench, the buyer and the next person get to read.

``words``       numbers, colours, ends and verdicts as a person reads them
``rows_bench``  what is cut, crimped, stacked, landed and capped, row by row
``rows_sums``   drops, buy list, fuses, totals and limits, row by row
``rows``        all of them gathered: the one set of rows behind every output
``layout``      plain text: tables, wrapped lines, headings
``stack_text``  the stacks as a table from nut to base
``crimp_text``  dies, and the crimp list
``step_text``   the steps, runs of like ones told together
``build_list``  the printed build list
``csv_tables``  one CSV per kind of row
``workbook``    the same tables as one workbook
``plan_json``   ``plan.json`` written and read
``folder``      a plan folder, written whole or not at all

Nothing here decides anything; a plan comes in and text goes out.
"""
