"""Takes the command line's files into the site: lifter, sets, check-ins, blocks, letters.

All of one import is stored or none of it. What is there already is left alone, so the same file may
come again (a log that grew by a week, an export): a row is new when the site knows fewer facts of
its day with its content than the file has rows."""

import hashlib
import json
from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path, PurePosixPath, PureWindowsPath
from tempfile import TemporaryDirectory
from typing import Any, TypeVar
from uuid import UUID, uuid5

from django.db import transaction

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import CheckIn, Moment, SetDone
from blockwright.engine.training import Lifter as LifterValue
from blockwright.files.block_json import block_from_json
from blockwright.files.checkins_file import read_checkins
from blockwright.files.json_text import load_json, plain
from blockwright.files.kinds import kind_of
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table, read_lifter
from blockwright.files.schemas import problems_against
from blockwright.files.sets_file import read_sets
from blockwright.store.blocks import add_revision, revision_on
from blockwright.store.convert import checkin_body, set_body, stored_moment
from blockwright.store.facts import append_all, facts_of, lock_lifters
from blockwright.store.letters import add_decisions, add_letter, revisions_after, undecided_letters
from blockwright.store.models import Batch, Decision, Fact, Lifter, Proposals, Share
from .check_files import questions_about
from .phone_home import today_of
from .save_lifter import carry_screening
from .stored_values import load_lifter

Named = TypeVar("Named", SetDone, CheckIn)
_Files = Sequence[tuple[Path, str]]  # Each with its kind.
_LETTER = "blockwright/proposals/"

_MOST_BYTES = {".toml": 256 * 1024, ".json": 4 * 1024 * 1024}
"""A lifter file is a few pages and a block some hundred KB; their readers are slower than CSV's."""


@dataclass(frozen=True, slots=True)
class Given:
    name: str
    content: bytes


@dataclass(slots=True)
class Taken:
    sets: int = 0
    checkins: int = 0
    blocks: int = 0
    letters: int = 0
    decisions: int = 0
    lifter_changed: bool = False
    warnings: list[Problem] = field(default_factory=list)


def new_lifter(by: User | None, given: Sequence[Given], now: datetime) -> Lifter:
    """A new lifter from their file (or from a block, which carries its lifter), and what comes
    beside it. The one who adds a lifter coaches them; added by nobody (from the command line),
    they are the owner's to share."""
    with TemporaryDirectory() as folder, transaction.atomic():
        return _added(by, _written(given, Path(folder)), now)[0]


def _added(by: User | None, files: _Files, now: datetime) -> tuple[Lifter, Taken]:
    value = _lifter_among(files)
    row = Lifter.objects.create(name=value.name, document=plain(lifter_to_table(value)))
    if by is not None:
        Share.objects.create(lifter=row, person=by, kind=Share.COACH)
    return row, _import(by, row, files, now)


def import_files(
    by: User | None, row: Lifter, given: Sequence[Given], now: datetime, batch: Batch | None = None
) -> Taken:
    """Takes files of a lifter who is there already, as one batch (the one that waited for it).
    BadInput names every problem of every file."""
    with TemporaryDirectory() as folder, transaction.atomic():
        return _import(by, row, _written(given, Path(folder)), now, batch)


def stored_already(row: Lifter, sets: Iterable[SetDone], checkins: Iterable[CheckIn]) -> int:
    """How many of these are stored, and would not be stored again."""
    known, gone = _known(row)
    done = [(one.moment, set_body(one), one.row) for one in sets]
    told = [(one.moment, checkin_body(one), one.row) for one in checkins]
    news = [*_new_facts(row.key, Fact.SET, done, known, gone)]
    news += _new_facts(row.key, Fact.CHECKIN, told, known, gone)
    return len(done) + len(told) - len(news)


def take_for(
    lifter: str | None, given: Sequence[Given], now: datetime
) -> tuple[Lifter, bool, Taken]:
    """Takes files from the command line, of the lifter of that name, else of whom the files name:
    who that is, whether they are new here, and what was taken."""
    with TemporaryDirectory() as folder, transaction.atomic():
        files = _written(given, Path(folder))
        name = lifter or _lifter_among(files).name
        row = _called(name)
        if row is not None:
            return row, False, _import(None, row, files, now)
        _require_file_of(name, files)
        row, taken = _added(None, files, now)
        return row, True, taken


def _called(name: str) -> Lifter | None:
    """The one lifter of this name; None when there is none."""
    # The longest a lifter's name may be; SQLite compares no longer ones without case.
    found = list(Lifter.objects.filter(name__iexact=name.strip()[:201]))
    if len(found) > 1:
        says = f"the site has {len(found)} lifters named {name}"
        raise BadInput.of(says, "take the files on that lifter's own page", column="lifter")
    return found[0] if found else None


def _require_file_of(name: str, files: _Files) -> None:
    """A lifter the site does not know comes with their own file."""
    try:
        named = _lifter_among(files).name
    except BadInput as error:
        says = f"the site has no lifter named {name}"
        mend = "mend the name, or give their lifter file with the others"
        raise BadInput.of(says, mend, column="lifter") from error
    if named.casefold() != name.strip().casefold():
        says = f"the site has no lifter named {name}, and the lifter file is {named}'s"
        raise BadInput.of(says, "mend the name here or in the file", column="lifter")


def placed(one: Given, folder: Path, number: int) -> Path:
    """The file on disk, where readers want it, without any folder of whichever system in its name;
    two may have one name."""
    path = folder / str(number) / (PurePosixPath(PureWindowsPath(one.name).name).name or "file")
    path.parent.mkdir()
    path.write_bytes(one.content)
    return path


def _written(given: Sequence[Given], folder: Path) -> _Files:
    """The files on disk, where the readers want them, with what each is: lifter files first,
    letters after the blocks they were written for."""
    files: list[tuple[Path, str]] = []
    problems: list[Problem] = []
    for number, one in enumerate(given):
        path = placed(one, folder, number)
        most = _MOST_BYTES.get(path.suffix.lower())
        if most is not None and len(one.content) > most:
            says, mend = f"is larger than {most // 1024} KB", "check that it is the right file"
            problems.append(Problem(file=path.name, says=says, mend=mend))
            continue
        try:
            files.append((path, kind_of(path)))
        except BadInput as error:
            problems += error.problems
    BadInput.raise_any(problems)
    return sorted(files, key=_turn)


def _turn(file: tuple[Path, str]) -> int:
    path, kind = file
    if kind != "json":
        return 0 if kind == "lifter" else 1
    return 3 if str(load_json(path).get("format")).startswith(_LETTER) else 2


def _lifter_among(files: _Files) -> LifterValue:
    for path, kind in files:
        if kind == "lifter":
            return read_lifter(path).value
    for path, kind in files:
        if kind == "json" and isinstance(table := load_json(path).get("lifter"), dict):
            return lifter_from_table(table, path.name).value
    raise BadInput.of("there is no lifter file among these", "add the lifter's .toml file")


def _import(
    by: User | None, row: Lifter, files: _Files, now: datetime, batch: Batch | None = None
) -> Taken:
    lock_lifters([row.key])
    row.refresh_from_db()
    taken = Taken()
    problems: list[Problem] = []
    for path, kind in files:
        try:
            getattr(_Import(by, row, now, taken), kind)(path)
        except BadInput as error:
            problems += error.problems
    BadInput.raise_any(problems)
    taken.decisions = sum(_decided(one, by) for one in undecided_letters(row))
    if taken.sets or taken.checkins or batch is not None:
        batch = batch or Batch(lifter=row, by=by, files=[[path.name] for path, _ in files])
        batch.files = [[sent[0]] for sent in batch.files]
        batch.state, batch.stored_at = Batch.STORED, now
        batch.facts = taken.sets + taken.checkins
        batch.save()
    return taken


def _decided(letter: Proposals, by: User | None) -> int:
    """Takes over what the next revision of its block tells was decided on a letter; how much."""
    offered = {one["id"] for one in letter.document["proposals"]}
    before = len(letter.block.document["decisions"])
    for following in revisions_after(letter.block):
        news = [
            Decision(proposal=one["proposal"], verdict=one["decision"], words=one["words"],
                     change=dict(one["change"]))
            for one in following.document["decisions"][before:]
            if one["proposal"] in offered
        ]  # fmt: skip
        if news:
            add_decisions(letter, news, following, by)
            return len(news)
    return 0


@dataclass(frozen=True, slots=True)
class _Import:
    """A method takes the files of the kind it is named for."""

    by: User | None
    row: Lifter
    now: datetime
    taken: Taken

    def lifter(self, path: Path) -> None:
        reading = read_lifter(path)
        self._check_name(reading.value.name, path)
        document = plain(lifter_to_table(reading.value))
        self.taken.warnings += reading.warnings
        if document != self.row.document:
            before = self.row.document
            self.row.document = document
            self.row.version += 1
            self.row.save(update_fields=["document", "version"])
            carry_screening(self.by, self.row, before, today_of(self.by, self.now))
            self.taken.lifter_changed = True

    def sets(self, path: Path) -> None:
        known = load_lifter(self.row)
        reading = read_sets(path, known.catalogue, known.value)
        self.taken.warnings += reading.warnings
        own = self._own(reading.value, path)
        self.taken.warnings += questions_about(own, known.catalogue, path.name, known.value)
        self.taken.sets += self._append(Fact.SET, [(s.moment, set_body(s), s.row) for s in own])

    def checkins(self, path: Path) -> None:
        reading = read_checkins(path)
        self.taken.warnings += reading.warnings
        own = self._own(reading.value, path)
        self.taken.checkins += self._append(
            Fact.CHECKIN, [(c.moment, checkin_body(c), c.row) for c in own]
        )

    def json(self, path: Path) -> None:
        document = load_json(path)
        named = str(document.get("format"))
        if named.startswith("blockwright/block/"):
            self._block(document, path)
        elif named.startswith(_LETTER):
            self._letter(document, path)
        else:
            says = f"is a document of another kind ({named[:40]})"
            mend = "give a lifter file, a log, check-ins, a block or a review's proposals"
            raise BadInput.of(says, mend, file=path.name, key="format")

    def _block(self, document: dict[str, Any], path: Path) -> None:
        block = block_from_json(document, path.name)
        self._check_name(block.lifter.name, path)
        before = self.row.revisions.count()
        try:
            add_revision(self.row, document, self.by)
        except ValueError as error:
            mend = "give the block a new revision number"
            raise BadInput.of(str(error), mend, file=path.name) from error
        self.taken.blocks += self.row.revisions.count() - before

    def _letter(self, document: dict[str, Any], path: Path) -> None:
        BadInput.raise_any(problems_against("proposals", document, path.name))
        self._check_name(document["lifter"], path)
        through, number = date.fromisoformat(document["through"]), document["block_revision"]
        block = revision_on(self.row, through, number)
        if block is None:
            says = f"was written for revision {number} of a block of before {through}, not here yet"
            raise BadInput.of(says, "give that block's file with it", file=path.name)
        self.taken.letters += add_letter(self.row, block, through, document)[1]

    def policy(self, path: Path) -> None:
        mend = "put the lifter's own values under [policy] in the lifter file"
        raise BadInput.of("is a policy file", mend, file=path.name)

    def _check_name(self, name: str, path: Path) -> None:
        if name != self.row.name:
            says = f"is {name}'s, and this is {self.row.name}"
            mend = "open that lifter's page, or mend the name in the file"
            raise BadInput.of(says, mend, file=path.name, key="name")

    def _own(self, facts: Sequence[Named], path: Path) -> list[Named]:
        name = self.row.name.casefold()
        own = [one for one in facts if one.lifter is None or one.lifter.casefold() == name]
        others = sorted({one.lifter for one in facts if one.lifter} - {one.lifter for one in own})
        if others:
            says = f"rows of {', '.join(others[:5])} are left out"
            mend = f"only {self.row.name}'s are taken here"
            self.taken.warnings.append(
                Problem(file=path.name, column="lifter", says=says, mend=mend)
            )
        return own

    def _append(self, kind: str, rows: Iterable[tuple[Moment, dict[str, Any], int]]) -> int:
        known, gone = _known(self.row)
        news = _new_facts(self.row.key, kind, rows, known, gone)
        return append_all(news, self.row, self.by, self.now)


def _known(row: Lifter) -> tuple[Counter[str], Counter[str]]:
    """How many facts of each content are there, and how many went with an import taken back."""
    back = set(row.batches.filter(state=Batch.TAKEN_BACK).values_list("stored_at", flat=True))
    facts = facts_of(row)
    gone = of_imports(facts, back)
    known, went = Counter[str](), Counter[str]()
    for fact in facts:
        if fact.amends not in gone:
            counts = went if fact.id in gone else known
            counts[_content(fact.kind, fact.day, fact.body)] += 1
    return known, went


def of_imports(facts: Iterable[Fact], stored_at: Container[datetime | None]) -> set[UUID]:
    """What came in with the imports that were stored at these times."""
    own = (one for one in facts if one.amends is None and one.event is None)
    return {one.id for one in own if one.received_at in stored_at}


def _new_facts(
    lifter: UUID,
    kind: str,
    rows: Iterable[tuple[Moment, dict[str, Any], int]],
    known: Counter[str],
    gone: Counter[str],
) -> Iterator[Fact]:
    """The rows beyond what is known of their content; their ids come from lifter and content, so
    that two imports of one file at the same time cannot store it twice either."""
    seen: Counter[str] = Counter()
    for moment, body, row in rows:
        content = _content(kind, moment.day, body)
        seen[content] += 1
        if seen[content] > known[content]:
            yield Fact(
                id=uuid5(lifter, f"{content} {seen[content] + gone[content]}"),
                kind=kind,
                day=moment.day,
                at=stored_moment(moment),
                body=body,
                digest=content,
                n=row,
            )


def _content(kind: str, day: date, body: dict[str, Any]) -> str:
    """What a fact says, without its time of day: exports may give only the date. 1 and 1.0 are one
    number, whichever the database gives back."""
    numbers = json.loads(json.dumps(body), parse_int=float)
    said = json.dumps([kind, day.isoformat(), numbers], sort_keys=True)
    return hashlib.sha256(said.encode()).hexdigest()
