import pytest

from evenhand.twin import Workplace, files, workplace


@pytest.fixture(scope="session")
def place() -> Workplace:
    return workplace(7)


@pytest.fixture(scope="session")
def written(place: Workplace) -> dict[str, bytes]:
    return files(place)
