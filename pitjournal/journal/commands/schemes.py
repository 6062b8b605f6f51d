"""Commands on scoring schemes: add, change, make a new version, retire, remove."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from pitjournal.domain.scheme import Rules, Scheme
from pitjournal.domain.tasting import Tasting
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped_schemes
from pitjournal.store.transaction import Transaction


def _own(transaction: Transaction, scheme_id: str) -> Scheme:
    """Return a scheme that may still be changed.

    Raises
    ------
    JournalError
        If it comes with the program, or a tasting was drawn with it.
    """
    if any(scheme.id == scheme_id for scheme in shipped_schemes()):
        raise JournalError("This scheme comes with the program.", "Make a new version of it.")
    scheme = transaction.get(Scheme, scheme_id)
    if transaction.find(Tasting, scheme_id=scheme_id):
        raise JournalError(f"{scheme.title} was used, so it stays.", "Make a new version of it.")
    return scheme


def _versions(transaction: Transaction, name: str) -> list[int]:
    known = [*shipped_schemes(), *transaction.find(Scheme)]
    return [s.version for s in known if s.name.casefold() == name.casefold()]


@dataclass(frozen=True)
class AddScheme:
    """Put a scheme on the Shelf as the next version of its name."""

    scheme: Scheme
    merge_key: str = ""

    @property
    def label(self) -> str:
        """Which."""
        return f"Add {self.scheme.name}"

    def run(self, transaction: Transaction) -> None:
        """Add it."""
        name = self.scheme.name.strip()
        if not name:
            raise JournalError("A scheme needs a name.", "Type one.")
        if fault := self.scheme.reads.fault():
            raise JournalError(fault)
        version = 1 + max(_versions(transaction, name), default=0)
        transaction.add(replace(self.scheme, name=name, version=version))


def new_version(scheme: Scheme) -> AddScheme:
    """Return the command that adds a copy of a scheme as its next version."""
    return AddScheme(Scheme(name=scheme.name, note=scheme.note, rules=dict(scheme.rules)))


@dataclass(frozen=True)
class ChangeScheme:
    """Change the rules, the name or the note of a scheme that no tasting has used."""

    scheme_id: str
    rules: Rules | None = None
    fields: Mapping[str, Any] = field(default_factory=dict)
    what: str = "rules"
    label: str = "Change a scheme"

    @property
    def merge_key(self) -> str:
        """One step for one field of one scheme."""
        return f"{self.scheme_id}:{self.what}"

    def run(self, transaction: Transaction) -> None:
        """Change it, if what comes out can be scored with."""
        scheme = _own(transaction, self.scheme_id)
        fields = dict(self.fields)
        if "name" in fields:
            name = str(fields["name"]).strip()
            if not name:
                raise JournalError("A scheme needs a name.", "Type one.")
            if name.casefold() != scheme.name.casefold():
                fields["version"] = 1 + max(_versions(transaction, name), default=0)
            fields["name"] = name
        if self.rules is not None:
            if fault := self.rules.fault():
                raise JournalError(fault)
            fields["rules"] = self.rules.as_map()
        transaction.change(Scheme, self.scheme_id, fields)


@dataclass(frozen=True)
class RetireScheme:
    """Offer a scheme no longer, or again."""

    scheme_id: str
    retired: bool
    merge_key: str = ""

    @property
    def label(self) -> str:
        """What it does."""
        return "Retire a scheme" if self.retired else "Bring back a scheme"

    def run(self, transaction: Transaction) -> None:
        """Retire it; tastings keep the rules they were drawn with."""
        transaction.change(Scheme, self.scheme_id, {"retired": self.retired})


@dataclass(frozen=True)
class RemoveScheme:
    """Remove a scheme that no tasting has used."""

    scheme_id: str
    label: str = "Remove a scheme"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Remove it."""
        transaction.remove(Scheme, _own(transaction, self.scheme_id).id)
