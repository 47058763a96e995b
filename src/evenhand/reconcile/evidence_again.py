"""What the evidence of discrepancies says, pattern by pattern, as it is told again in other languages.

Tables keep the sentences in English, made of many rows at once; each of them, and what stands within, is one of these.
"""

from __future__ import annotations

from evenhand.terms.languages import sentence

__all__ = ["TOLD_AGAIN"]

TOLD_AGAIN = (
    sentence("{what}; {count:# punch|# punches} on {day}"),
    sentence("{what}; {count:# punch|# punches} from {first} to {last}"),
    sentence("{what}; {count:# punch|# punches} at times that cannot be placed, because the reader is not listed"),
    sentence("{number} at {reader} is the hand of {call}, whose number is {right}: {why}"),
    sentence("{number} is still enrolled at {reader}; {call}, who held it, left on {day}"),
    sentence("at {reader} the reader holds the name '{name}' beside {number}, and the roster gives {other} to {call}"),
    sentence("the reader holds the name '{name}' beside {number}"),
    sentence("{number} is enrolled at {reader} with the name '{name}', and nobody on the roster holds it"),
    sentence("{number} is enrolled at {reader}, and nobody on the roster holds it"),
    sentence("{number} is enrolled at {reader} with the name '{name}', and nobody on the roster holds it; {why}"),
    sentence("{number} is enrolled at {reader}, and nobody on the roster holds it; {why}"),
    sentence("no hand has been accepted under {number} at {reader} in the logs looked at; {log}"),
    sentence("its log holds other numbers"),
    sentence("no punch of that reader has been taken yet"),
    sentence("{reader} accepted {count:# punch|# punches} on {day} under {number}, which nobody on the roster holds"),
    sentence(
        "{reader} accepted {count:# punch|# punches} from {first} to {last} under {number}, which nobody on "
        "the roster holds"
    ),
    sentence(
        "{reader} accepted {count:# punch|# punches} at times that cannot be placed, because the reader is "
        "not listed under {number}, which nobody on the roster holds"
    ),
    sentence("{reader} accepted {count:# punch|# punches} on {day} under {number}, which {people} people hold"),
    sentence(
        "{reader} accepted {count:# punch|# punches} from {first} to {last} under {number}, which {people} people hold"
    ),
    sentence(
        "{reader} accepted {count:# punch|# punches} at times that cannot be placed, because the reader is "
        "not listed under {number}, which {people} people hold"
    ),
    sentence(
        "{reader} accepted {count:# punch|# punches} on {day} under {number}, held by {call}, employed from "
        "{hired} to {left}"
    ),
    sentence(
        "{reader} accepted {count:# punch|# punches} from {first} to {last} under {number}, held by {call}, "
        "employed from {hired} to {left}"
    ),
    sentence(
        "{reader} accepted {count:# punch|# punches} at times that cannot be placed, because the reader is "
        "not listed under {number}, held by {call}, employed from {hired} to {left}"
    ),
    sentence("the beginning"),
    sentence("today"),
    sentence("{reader} logs {number}; but for zeros in front this is {other}, the number of {call}"),
    sentence(
        "{reader} lists {count:# number|# numbers}; supervisors enrolled with authority: {who}; supervisors "
        "on the roster of site {site}: {could}"
    ),
    sentence("nobody, as its list does not say who may enrol others"),
    sentence("{who}; with authority on its list but not counted: {others}"),
    sentence("nobody"),
    sentence("{who} and {count} more"),
    sentence(
        "{call} is a supervisor on the roster but enrolled at {reader} under {number} without authority to enrol others"
    ),
    sentence(
        "{call} is no supervisor on the roster but enrolled at {reader} under {number} with authority to enrol others"
    ),
    sentence("{reader} holds {capacity} hands and {listed} are enrolled"),
    sentence("{why}, and {number} is listed at {reader}"),
    sentence("the roster gives {call} no number to key"),
    sentence("the roster gives {number} to {call} and to {other}"),
    sentence("{number} has {digits} digits and {reader} accepts {most}"),
    sentence("{number} is on none of the readers of site {site} ({readers})"),
    sentence("{number} is on none of the readers of any site ({readers})"),
    sentence("site {site} has no reader on which {number} could be enrolled"),
    sentence("no site has a reader on which {number} could be enrolled"),
    sentence("{number} is {meant} with one digit mistyped"),
    sentence("{number} is {meant} with two digits swapped"),
    sentence("{number} is {meant} with two digits swapped across one"),
    sentence("{number} is {meant} with a pair of equal digits mistyped"),
    sentence("{number} is {meant} with two equal digits mistyped"),
    sentence("{number} is {meant} misheard, like thirteen for thirty"),
    sentence("{number} is {meant} with one digit dropped"),
    sentence("{number} is {meant} with one digit doubled"),
    sentence("{number} is {meant} with one digit added"),
    sentence("{number} is {meant} without the zeros in front"),
    sentence("{number} is {meant} with zeros in front"),
    sentence("{number} is the end of their telephone number"),
    sentence("{number} is a number in their street address"),
    sentence("{number} is a date of theirs on the roster"),
    sentence("{number} is their own number"),
    sentence("it could be {call}, as {why}"),
    sentence("it could be {call}, as {why}; {other}, as {more}"),
    sentence("it could be {call}, as {why}; {other}, as {more}; {third}, as {also}"),
    sentence("it could be {call}, as {why}; {other}, as {more}; {third}, as {also}; {fourth}, as {last}"),
    sentence("{named} (nobody on the roster holds that number)"),
    sentence("{named} (several people hold that number)"),
    sentence("{named} ({call} has left)"),
    sentence("{named} ({call} is no supervisor on the roster)"),
    sentence("{named} (a wrong number: may be the hand of {call}, whose number is {right})"),
)
