"""What a user may call, open, set or be told of is written down, and what is written down is there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from fastapi.routing import APIRoute

from evenhand.checks import all_checks
from evenhand.cli import COMMANDS, evenhand
from evenhand.layouts import forms
from evenhand.law.jurisdictions import JURISDICTIONS
from evenhand.pay import FIELDS
from evenhand.terms.sources import SOURCES
from evenhand.web import pages
