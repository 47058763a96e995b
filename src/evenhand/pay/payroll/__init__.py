"""The hand-off to payroll: what is owed, in the columns that each payroll asks for, with control totals."""

from evenhand.pay.payroll.asked import CODE_FIELDS, FileAsked, asked_by, default_columns
from evenhand.pay.payroll.carried import LeftOut, left_out
from evenhand.pay.payroll.control import ColumnTotal, ControlTotal, digest
from evenhand.pay.payroll.fields import FIELDS, Cell, PayrollField, asks_for_pay, differential_fields
from evenhand.pay.payroll.owed import owed_items, owed_premiums
from evenhand.pay.payroll.rows import PayrollRow, payroll_rows
from evenhand.pay.payroll.sample import SampleCheck, check_sample
from evenhand.pay.payroll.sheet import as_workbook
from evenhand.pay.payroll.tables import PayrollTable, check_all_handed_over, payroll_table, rows_to_print
from evenhand.pay.payroll.written import as_text_file, changed_cells

__all__ = [
    "CODE_FIELDS",
    "FIELDS",
    "Cell",
    "ColumnTotal",
    "ControlTotal",
    "FileAsked",
    "LeftOut",
    "PayrollField",
    "PayrollRow",
    "PayrollTable",
    "SampleCheck",
    "as_text_file",
    "as_workbook",
    "asked_by",
    "asks_for_pay",
    "changed_cells",
    "check_all_handed_over",
    "check_sample",
    "default_columns",
    "differential_fields",
    "digest",
    "left_out",
    "owed_items",
    "owed_premiums",
    "payroll_rows",
    "payroll_table",
    "rows_to_print",
]
