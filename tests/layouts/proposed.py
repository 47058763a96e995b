"""What is proposed of a file that leaves nothing open."""

from collections.abc import Collection

from evenhand.layouts import Answers, KnownCells, Layout, SourceFile, propose


def layout_of(file: SourceFile, known_readers: Collection[str] = (), **said: object) -> Layout:
    """Return the layout that is proposed; fails where there is still something to ask."""
    proposal = propose(file, Answers(**said), KnownCells(readers=list(known_readers)))
    assert not proposal.questions, proposal.questions
    return proposal.layout
