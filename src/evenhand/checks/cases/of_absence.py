"""Punches that are missing: of one person, of a site's people who were away, and where a log is."""

from __future__ import annotations

from collections.abc import Sequence

from evenhand.checks.cases.telling import CaseTold, asked_of_days, following, names_of, of_code, sentence
from evenhand.checks.facts import Facts
from evenhand.checks.words import call
from evenhand.terms.cases import CaseStep
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.records import Finding

__all__ = ["asked", "away", "log"]


def asked(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of one person's missing punches that nothing on file explains: one question answers them."""
    theirs = sorted(of_code(findings, "missing_punch", "long_span"), key=lambda one: one.key.split("/")[-1])
    whose = call(facts, theirs[0].person)
    minutes = sum(one.stake.minutes for one in theirs)
    in_doubt = told(
        "about {time:duration} of pay {hours:is|are} in doubt", time=60 * minutes, hours=1 if minutes == 60 else 2
    )
    if len(theirs) == 1:
        says = theirs[0].says
    else:
        days = told("{names:listed 5}", names=[told("{day:short}", day=one.day) for one in theirs if one.day])
        says = told(
            "{whose} has punches missing on {count:# day|# days}: {days}", whose=whose, count=len(theirs), days=days
        )
    if of_code(findings, "dispute_open"):
        in_doubt = told("{in_doubt}; they dispute it", in_doubt=in_doubt)
    refused = sorted({reader for one in theirs for reader in one.details.get("refused_at", ())})
    why = (
        told("The hand was refused at {refused:listed} then", refused=refused)
        if refused
        else told("Nothing on file explains it")
    )
    steps = asked_of_days(theirs)
    steps += [following(one) for one in of_code(findings, "dispute_open")]
    return CaseTold(
        told("Punches to ask about"), (sentence(says), sentence(told("{one}; {other}", one=why, other=in_doubt))), steps
    )


def away(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a site's people who left no punch on days they were to work, without leave on file: the site knows."""
    site = findings[0].details["site"] or told("no site")
    people = sorted({one.person for one in findings if one.person})
    days = sum(one.details["days"] for one in findings)
    if len(people) == 1:
        says = (
            findings[0].says
            if len(findings) == 1
            else told("{who} left no punch on {days:# day|# days}", who=call(facts, people[0]), days=days)
        )
    else:
        who = told("{count:# person|# people}", count=len(people))
        says = told(
            "{who} of {site} left no punch on {days:# day|# days} they were to work", who=who, site=site, days=days
        )
    names = names_of(facts, people)
    period = told("{days}", days=DaySpan(facts.period.first, facts.period.last))
    beside = (
        told("No leave is on file for them, and nothing else explains it: {names}", names=names)
        if len(people) > 1
        else told("No leave is on file, and nothing else explains it")
    )
    steps = [
        CaseStep(
            "files",
            told(
                "If {site} keeps a list of leave, take it for {period}: whoever was on leave is answered.",
                site=site,
                period=period,
            ),
        ),
        CaseStep(
            "settle",
            told(
                "Ask {site} who was away, and settle those together; whoever worked gets their punches on Hours.",
                site=site,
            ),
        ),
    ]
    return CaseTold(told("Nobody has said who was away"), (sentence(says), sentence(beside)), steps)


def log(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a log that is missing, and of whom it leaves without punches."""
    logs = of_code(findings, "log_missing", "log_ends_early", "reader_quiet")
    absences = of_code(findings, "no_punches", "missing_punch", "long_span")
    people = {one.person for one in absences}
    who = told("{count:# person who uses it has|# people who use it have}", count=len(people))
    left = told("{who} punches missing then", who=who)
    beside = left if people else logs[0].evidence[0]
    steps = [following(logs[0])]
    if absences:
        steps.append(
            CaseStep(
                "ask_day",
                told("Look afterwards who still lacks a punch; what the log holds is answered by itself."),
                "waits",
                told("the log"),
            )
        )
    return CaseTold(told("A log is missing"), (sentence(logs[0].says), sentence(beside)), steps)
