"""The keys of a site's own rules in a settings file."""

from __future__ import annotations

from evenhand.terms.languages import sentence
from evenhand.terms.setting_key import SettingKey, SettingTable

__all__ = ["DATED_KEYS", "SITE"]

SITE = SettingTable(
    ("site",),
    sentence("This site"),
    sentence(
        "What binds a site. What changes from a day on is written below it with its date, and what was before stays."
    ),
    (
        SettingKey(
            "zone",
            sentence("Time zone"),
            sentence("The zone in which its days and workweeks are counted."),
            "zone",
            "",
            sentence("where it lies"),
        ),
        SettingKey(
            "jurisdiction",
            sentence("Law"),
            sentence("The rules of law that bind it."),
            "choice",
            "us_federal",
            sentence("the law of the place"),
        ),
        SettingKey(
            "workweek_starts",
            sentence("Workweek begins"),
            sentence('Weekday and time, such as "Sunday 00:00"; workdays begin at the same time.'),
            "text",
            "Sunday 00:00",
            "29 CFR 778.105",
        ),
        SettingKey(
            "rounding_minutes",
            sentence("Rounding"),
            sentence("To what recorded times are rounded; 0 rounds nothing."),
            "choice",
            "0",
            "29 CFR 785.48(b)",
            ("0", "5", "6", "15"),
        ),
        SettingKey(
            "alternative_day_hours",
            sentence("Day of an alternative schedule"),
            sentence("The daily limit of an alternative or flexible schedule that was properly adopted."),
            "number",
            "none",
            "Cal. Labor Code 511; 8 AAC 15.102",
        ),
        SettingKey(
            "alternative_days",
            sentence("Days of the schedule"),
            sentence("Its weekdays in California, where they are the same for everybody."),
            "weekdays",
            sentence("those of each person's schedule"),
            "Cal. Labor Code 511",
        ),
        SettingKey(
            "health_care_schedule",
            sentence("Schedule of health care"),
            sentence("Whether it is one of health care, with days of up to 12 hours in California."),
            "yes_no",
            "no",
            "IWC wage orders 4 and 5, section 3(B)(8)",
        ),
        SettingKey(
            "first_meal_waived",
            sentence("First meal waived by"),
            sentence("People who agreed to waive the first meal period, by identifier; * is everybody."),
            "texts",
            "nobody",
            "Cal. Labor Code 512(a)",
        ),
        SettingKey(
            "second_meal_waived",
            sentence("Second meal waived by"),
            sentence("People who agreed to waive the second meal period, by identifier; * is everybody."),
            "texts",
            "nobody",
            "Cal. Labor Code 512(a)",
        ),
        SettingKey(
            "fortnight_begins",
            sentence("14 days begin"),
            sentence("The first day of any 14-day period, under the 8 and 80 system."),
            "day",
            "none",
            "29 USC 207(j)",
        ),
        SettingKey(
            "public_safety",
            sentence("Kind of public safety"),
            sentence("The kind of work, where the law of public safety binds it."),
            "choice",
            "none",
            "29 USC 207(k)",
            ("fire_protection", "law_enforcement"),
        ),
        SettingKey(
            "work_period_days",
            sentence("Work period"),
            sentence("How long its work periods last: 7, 14, 21 or 28 days."),
            "number",
            "none",
            "29 USC 207(k)",
        ),
        SettingKey(
            "work_period_begins",
            sentence("Work period begins"),
            sentence("The first day of any of them, on which a workweek begins."),
            "day",
            "none",
            "29 USC 207(k)",
        ),
        SettingKey(
            "holidays",
            sentence("Public holidays"),
            sentence("The public calendar for differentials: a country, or a country and its part, such as US-CA."),
            "text",
            "none",
        ),
        SettingKey(
            "place",
            sentence("Place"),
            sentence("Where its laws of privacy and records are looked for, by ISO 3166, such as US-IL."),
            "text",
            sentence("that of the workplace, else what its law and zone tell"),
            "ISO 3166",
        ),
    ),
)

DATED_KEYS = tuple(one.key for one in SITE.keys if one.key != "place")
"""What may change from a day on; a place does not."""
