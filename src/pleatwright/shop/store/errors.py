"""What can go wrong with the store.

PleatwrightError
├── InputError
│   └── NotKept       nothing is kept under that number
├── Conflict          somebody else has saved since; what was brought is kept as a draft
└── Unavailable       the database cannot be reached, is busy, damaged, or has no room
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import (
    DatabaseError,
    DataError,
    DBAPIError,
    IntegrityError,
    InterfaceError,
    InternalError,
    NotSupportedError,
    ProgrammingError,
)
from sqlalchemy.exc import TimeoutError as NoneFree

from pleatwright.errors import InputError, PleatwrightError, Problem
from pleatwright.shop.store.values import Draft, Kept


class NotKept(InputError):  # noqa: N818  # says what is the case
    """Nothing of that kind is kept under that number."""

    def __init__(self, what: str, number: int) -> None:
        super().__init__(Problem(what, str(number), "is not in the store", "look it up in its list"))


class Conflict(PleatwrightError):  # noqa: N818  # says what is the case
    """Somebody else has saved since: `mine` was brought, `theirs` is kept, `draft` keeps mine."""

    def __init__(self, mine: Kept, theirs: Kept, draft: Draft) -> None:
        self.mine, self.theirs, self.draft = mine, theirs, draft
        super().__init__(
            f"{draft.kind} {draft.of}: version {draft.base} was read and version {theirs.version} is kept by "
            f"now; what was brought is kept as draft {draft.id}"
        )


class Unavailable(PleatwrightError):  # noqa: N818  # says what is the case
    """The database cannot be used now; nothing of what was asked for has been done."""


@contextmanager
def usable() -> Iterator[None]:
    """Turn what a database says into errors of this package, without the values that were being kept."""
    try:
        yield
    except IntegrityError:
        problem = Problem(
            "the store",
            "a number",
            "names what is not kept, or what others still need",
            "look it up in its list",
        )
        raise InputError(problem) from None
    except (OverflowError, DataError):
        problem = Problem("the store", "a number", "is too great", "look it up in its list")
        raise InputError(problem) from None
    except NoneFree:
        raise Unavailable("the store cannot be used now: too many want it at once") from None
    except (DatabaseError, InterfaceError) as error:
        if isinstance(error, ProgrammingError | InternalError | NotSupportedError):
            raise  # this package has asked for what no database does
        raise Unavailable(f"the store cannot be used now: {_reason(error)}") from None


def _reason(error: DBAPIError) -> str:
    return str(error.orig).strip().split("\n")[0]
