"""What the meanings of a header's words make together: each concept with the phrases that name it.

A phrase is a row of meanings, in any order; alternatives are parted by a bar. Judgement, tried on made files.
"""

from __future__ import annotations

__all__ = ["PHRASES"]

PHRASES: dict[str, str] = {
    "person_id": (
        "employee number | employee identifier | employee code | staff_number | payroll identifier | payroll number | "
        "payroll code | payroll employee | employee payroll number | staff_number employee | staff_number number | "
        "staff_number payroll | staff_number identifier | staff_number code"
    ),
    "person": "employee",
    "identifier": "identifier | code | number identifier",
    "number": "number",
    "keyed_number": (
        "badge | badge number | badge identifier | badge code | clock number | clock identifier | clock code | punch "
        "number | punch identifier | punch code | badge employee | badge number employee | enrol number | enrol "
        "identifier | time number | reader badge | clock badge | in code | in number | level number | level code | "
        "level identifier"
    ),
    "name": "name | name whole | name employee | family_name given_name | name family_name given_name | whole employee",
    "family_name": "family_name | family_name name",
    "given_name": "given_name | given_name name",
    "site": "site | employee site | site work | place work | place hire | site hire | site company",
    "place": "place | place reader | in | in place",
    "department": "department",
    "cost_centre": "cost_centre | cost_centre code | cost_centre number | cost_centre department",
    "address": "address | address employee",
    "phone": "phone | phone number",
    "supervisor": (
        "supervisor | employee supervisor | supervisor status | may enrol | level enrol | may supervisor | supervisor "
        "flag | may employee | level may | may"
    ),
    "role": "role | role employee | level employee | type employee",
    "level": "level",
    "manager": (
        "manager | supervisor name | manager name | supervisor identifier | manager identifier | manager number | "
        "supervisor number"
    ),
    "title": "title",
    "hired": (
        "hire | hire date | in date | start date | hire start | hire start date | start date contract | start "
        "contract | employee start | employee start date | employee in date | hire work | hire work date | in company "
        "| hire company | in company date | start company | start contract work | hire payroll | start hire work | in "
        "work"
    ),
    "left": (
        "leave | leave date | out date | end date | leave end | end date contract | end contract | end hire | end "
        "date hire | end employee | end date employee | leave employee | leave work | leave work date | out company | "
        "leave company | out company date | end company | end contract work | leave payroll | end hire work | out "
        "work"
    ),
    "date": (
        "date | punch date | date in out | workday | workday date | workday punch | work date | date badge | date "
        "presentation"
    ),
    "time": "time | punch time | clock time | time in out | time badge | time presentation",
    "moment": "moment | date time | punch date time | punch moment | clock date time",
    "zone": "zone | zone time | clock zone | reader zone | site zone",
    "reader": (
        "reader | reader name | reader identifier | reader code | reader number | reader label | clock | clock name | "
        "reader punch | reader clock"
    ),
    "digits": (
        "digit | most digit | number length | digit number | most length | length badge | length most number | length "
        "digit | most number | length identifier | length code | length most badge | badge digit | identifier digit | "
        "most number digit | most code | most length code | count digit | digit may | length number digit"
    ),
    "capacity": (
        "capacity | capacity most | most employee | capacity enrol | most enrol | most count employee | count enrol | "
        "capacity employee | capacity presentation | most presentation | capacity count"
    ),
    "most": "most | count most",
    "enrolled": (
        "enrol | enrol date | date enrol employee | hire reader | hire date reader | enrol reader | enrol reader date "
        "| enrol moment | presentation date | enrol start | hire punch | hire punch date"
    ),
    "presentations": (
        "presentation | presentation number | number presentation enrol | presentation count | presentation enrol | "
        "presentation count enrol"
    ),
    "direction": "direction | in out | in out direction | punch direction | direction type",
    "type": "type | punch type | type code",
    "punch": "punch",
    "status": "status | punch status | status code",
    "outcome": (
        "outcome | punch outcome | outcome status | outcome code | outcome presentation | level outcome | place "
        "outcome | outcome signed"
    ),
    "score": (
        "score | score punch | score outcome | score presentation | score amount | score level | amount presentation "
        "| score punch amount"
    ),
    "start": (
        "start | start time | shift start | shift start time | start moment | start date time | shift in | start "
        "hours | start date hours | shift start hours | shift in time | shift in date time | shift work start | work "
        "start time"
    ),
    "end": (
        "end | end time | shift end | shift end time | end moment | end date time | shift out | end hours | end date "
        "hours | shift end hours | shift out time | shift out date time | shift work end | work end time"
    ),
    "time_in": "in | in time | in date time | clock in",
    "time_out": "out | out time | out date time | clock out",
    "punched_in": "punch in | punch in time | punch in date time",
    "punched_out": "punch out | punch out time | punch out date time",
    "shift": "shift | shift name | shift code | shift type",
    "shift_date": "shift date | start date shift | workday | workday shift | workday date | work date",
    "given": (
        "signed | signed date | consent | consent date | consent signed | consent signed date | consent start | "
        "consent signed start"
    ),
    "form": "form | consent form | form number | form code | signed form",
    "withdrawn": "withdrawn | withdrawn date | consent withdrawn | consent withdrawn date | consent end",
    "valid_from": (
        "valid | valid start | valid date | valid start date | rate start | rate start date | start date | pay start "
        "| rate valid start | pay start date | rate valid | rate valid date"
    ),
    "valid_to": (
        "valid end | valid end date | rate end | rate end date | end date | expiry | expiry date | valid expiry | pay "
        "end | rate valid end | pay end date"
    ),
    "hourly_rate": (
        "rate hourly | rate time | rate hours | hourly | pay hourly | pay time | rate | pay rate | rate pay hourly | "
        "amount time | amount hourly | pay hours | pay | rate amount hourly | amount hours | rate amount time | rate "
        "hourly time | rate amount | rate amount time hourly"
    ),
    "amount": "amount | pay amount | amount rate",
    "plan": "plan | pay type | rate type | plan type",
    "salary_for": "period | pay period | rate period",
    "covers_hours": "weekly hours | covers hours | contract hours | contract hours weekly",
    "floor": "floor | floor rate | floor hourly | floor rate hourly",
    "earned_from": "earned start | earned start date | earned | earned date | bonus start | bonus start date",
    "earned_to": "earned end | earned end date | bonus end | bonus end date",
    "earning_kind": "pay_kind | type pay | type earned | bonus | bonus type | bonus pay",
    "units": "unit | unit number",
    "label": "label",
    "work_start": "start work | start work date",
    "work_end": "end work | end work date",
    "own_number": "qualifier number | qualifier code | qualifier identifier",
    "length": "length | length number",
    "goods": (
        "goods | goods number | goods date | goods code | goods name | goods amount | goods time | goods identifier"
    ),
    # ---- what no table here has a place for
    "birth": "birth | birth date",
    "middle_name": "middle_name",
    "mail": "mail | mail address",
    "account": "account | account number",
    "state_number": "state_number | state_number number | state_number identifier",
    "row": "row | row number",
    "weekday": "weekday",
    "gender": "gender",
    "town": "town | town name | town code",
    "remark": "remark",
    "checksum": "checksum | checksum code | checksum number",
    "age": "age",
    "change": "change | change date | change time | change moment",
    "contract": "contract | contract type | contract end flag",
    "marital": "marital | marital status",
    "absence": (
        "absence | absence type | absence code | remark leave | remark hire | absence start | absence end | absence "
        "date"
    ),
    "company": "company | company name | company number | company code",
    "event_code": "event_code | event_code number",
    "part": "year | month | minute | hours",
    "received": "received | received date | received number",
    "break": "break | break start | break end | break length | break time",
    "sum": "sum | hours | sum hours | hours sum time | sum time | hours number",
    "firmware": "firmware | firmware number",
    "locker": "locker | locker number | locker name | locker phone",
}
