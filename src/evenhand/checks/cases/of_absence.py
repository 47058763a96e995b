"""Punches that are missing: of one person, of a site's people who were away, and where a log is."""

from __future__ import annotations

from collections.abc import Sequence

from evenhand.checks.cases.telling import CaseTold, asked_of_days, following, names_of, of_code, sentence
from evenhand.checks.facts import Facts
from evenhand.checks.words import call
from evenhand.terms.cases import CaseStep
from evenhand.terms.records import Finding
from evenhand.terms.words import as_duration, as_short_day, as_span_of_days, counted, listed

__all__ = ["asked", "away", "log"]


def asked(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of one person's missing punches that nothing on file explains: one question answers them."""
    theirs = sorted(of_code(findings, "missing_punch", "long_span"), key=lambda one: one.key.split("/")[-1])
    whose = call(facts, theirs[0].person)
    minutes = sum(one.stake.minutes for one in theirs)
    in_doubt = f"about {as_duration(60 * minutes)} of pay {'is' if minutes == 60 else 'are'} in doubt"
    if len(theirs) == 1:
        says = theirs[0].says
    else:
        days = listed([as_short_day(one.day) for one in theirs if one.day], 5)
        says = f"{whose} has punches missing on {counted(len(theirs), 'day')}: {days}"
    disputed = "; they dispute it" if of_code(findings, "dispute_open") else ""
    refused = sorted({reader for one in theirs for reader in one.details.get("refused_at", ())})
    why = f"The hand was refused at {listed(refused)} then" if refused else "Nothing on file explains it"
    steps = asked_of_days(theirs)
    steps += [following(one) for one in of_code(findings, "dispute_open")]
    return CaseTold("Punches to ask about", (sentence(says), sentence(f"{why}; {in_doubt}{disputed}")), steps)


def away(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a site's people who left no punch on days they were to work, without leave on file: the site knows."""
    site = findings[0].details["site"] or "no site"
    people = sorted({one.person for one in findings if one.person})
    days = sum(one.details["days"] for one in findings)
    if len(people) == 1:
        says = (
            findings[0].says
            if len(findings) == 1
            else f"{call(facts, people[0])} left no punch on {counted(days, 'day')}"
        )
    else:
        who = counted(len(people), "person", "people")
        says = f"{who} of {site} left no punch on {counted(days, 'day')} they were to work"
    names = names_of(facts, people)
    period = as_span_of_days(facts.period.first, facts.period.last)
    beside = (
        f"No leave is on file for them, and nothing else explains it: {names}"
        if len(people) > 1
        else "No leave is on file, and nothing else explains it"
    )
    steps = [
        CaseStep("files", f"If {site} keeps a list of leave, take it for {period}: whoever was on leave is answered."),
        CaseStep(
            "settle", f"Ask {site} who was away, and settle those together; whoever worked gets their punches on Hours."
        ),
    ]
    return CaseTold("Nobody has said who was away", (sentence(says), sentence(beside)), steps)


def log(findings: Sequence[Finding], facts: Facts) -> CaseTold:
    """Tell of a log that is missing, and of whom it leaves without punches."""
    logs = of_code(findings, "log_missing", "log_ends_early", "reader_quiet")
    absences = of_code(findings, "no_punches", "missing_punch", "long_span")
    people = {one.person for one in absences}
    who = counted(len(people), "person who uses it has", "people who use it have")
    left = f"{who} punches missing then"
    beside = left if people else logs[0].evidence[0]
    steps = [following(logs[0])]
    if absences:
        steps.append(
            CaseStep(
                "ask_day",
                "Look afterwards who still lacks a punch; what the log holds is answered by itself.",
                "waits",
                "the log",
            )
        )
    return CaseTold("A log is missing", (sentence(logs[0].says), sentence(beside)), steps)
