"""A coach's own spreadsheets into the site: held until the coach has looked, stored in one batch,
taken back whole; and names of lifts that are remembered.

Every import of files is such a batch, so that a wrong upload can be undone. Nothing is deleted:
what is taken back is withdrawn, and the same file may come again. Of the export of a scale or watch
the coach may answer otherwise which column is what."""

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import UUID

from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.engine.training import CheckIn, SetDone
from blockwright.files import checkins_file, sets_file
from blockwright.files.csv_text import header_of
from blockwright.files.facts_csv import checkin_row, checkins_csv, rir_text, sets_csv
from blockwright.files.importing.calendar import Question, question_of
from blockwright.files.importing.draft import OWN, Draft, NoSets, Wishes, draft_of
from blockwright.files.importing.measure_columns import DATE
from blockwright.files.importing.measures import CheckInsDraft, checkins_beside, checkins_of
from blockwright.files.importing.workbooks import WORKBOOKS
from blockwright.files.policy_files import default_policy
from blockwright.store.access import or_404
from blockwright.store.facts import append_all, facts_of, last_seq, locked
from blockwright.store.models import Batch, Fact, Lifter, LiftName
from blockwright.store.standing import standing, verdicts
from .amend_fact import amendment
from .check_files import questions_about
from .import_files import Given, import_files, of_imports, placed
from .stored_values import load_lifter

PERSON = "person"
_OF_OURS = 3  # A CSV file with so many of our own headings is meant as ours (judgement)


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One set as it was understood, beside the cells it was read from."""

    day: date
    lift: str
    load: str
    reps: str
    rir: str
    place: str
    text: str
    doubt: str  # Why it looks wrong beside the rest of the file; empty where it does not


@dataclass(frozen=True, slots=True)
class ImportPreview:
    draft: Draft
    rows: tuple[PreviewRow, ...]
    people: tuple[str, ...]
    person: str
    checkins: tuple[CheckIn, ...] = ()
    """Of a scale's or a watch's export, or of the tabs of a workbook beside those of sets."""

    @property
    def sets(self) -> list[SetDone]:
        """Those of the one lifter they are stored for."""
        own = (one for one in self.draft.sets if not self.people or one.lifter == self.person)
        return [replace(one, lifter=None) for one in own]

    @property
    def measured(self) -> list[tuple[date, str, str]]:
        """Day, measure, and value with its unit, of each check-in."""
        rows = ((one.moment.day, checkin_row(one)) for one in self.checkins)
        return [(day, row[1], f"{row[3]} {row[4]}".strip()) for day, row in rows]


def is_foreign(given: Given) -> bool:
    """Whether a file is a coach's own sheet, not one of Blockwright's."""
    ending = Path(given.name).suffix.lower()
    if ending in WORKBOOKS:
        return True
    if ending not in (".csv", ".tsv", ".txt"):
        return False
    with TemporaryDirectory() as folder:
        own = {*sets_file.COLUMNS, *checkins_file.COLUMNS}
        return len(own & {*header_of(placed(given, Path(folder), 0), tuple(own))}) < _OF_OURS


def hold_sheets(by: User, row: Lifter, given: Sequence[Given]) -> Batch:
    """Keeps the files until the coach has looked. BadInput when nothing can be read."""
    Batch.objects.filter(lifter=row, state=Batch.WAITING).delete()
    batch = Batch(lifter=row, by=by)
    batch.files = [[one.name, base64.b64encode(one.content).decode("ascii")] for one in given]
    preview(batch)
    batch.save()
    return batch


def batch_of(row: Lifter, key: UUID) -> Batch:
    """An import of this lifter. Http404 where there is none."""
    return or_404(Batch.objects.filter(lifter=row, key=key).first(), "import")


def batches_of(row: Lifter) -> list[Batch]:
    return list(row.batches.select_related("by"))


def waits(batch: Batch) -> bool:
    """Whether nobody has decided about the files yet."""
    return batch.state == Batch.WAITING


def answer(batch: Batch, given: Mapping[str, str]) -> None:
    """Takes the coach's answers; BadInput, and nothing kept, where one is no choice."""
    before = batch.answers
    batch.answers = {**before, **given}
    try:
        preview(batch)
    except BadInput:
        batch.answers = before
        raise
    batch.save(update_fields=["answers"])


def preview(batch: Batch) -> ImportPreview:
    """What the waiting files would store, under the answers so far."""
    known = load_lifter(batch.lifter)
    value, catalogue = known.value, known.catalogue
    said = {key: text for key, text in batch.answers.items() if key != PERSON}
    wishes = Wishes(usual_unit=value.units, answers=said, known_names=_known_names(batch.by))
    first = value.start or (batch.made_at or timezone.now()).date()
    wishes.fallback_year = first.year
    with TemporaryDirectory() as folder:
        given = [Given(name, base64.b64decode(content)) for name, content in batch.files]
        paths = [placed(one, Path(folder), number) for number, one in enumerate(given)]
        try:
            draft = draft_of(paths, catalogue, wishes)
        except NoSets as no_sets:
            return _of_measures(paths, wishes, no_sets)
        beside = checkins_beside(paths, draft, wishes)
    people = tuple(dict.fromkeys(done.lifter for done in draft.sets if done.lifter))
    person = batch.answers.get(PERSON) or _likely(people, batch.lifter.name)
    asked = questions_about(draft.sets, catalogue, "", value)
    doubts = {problem.row: problem.says for problem in asked}
    rows = tuple(
        PreviewRow(
            day=done.moment.day,
            lift=done.lift,
            load=f"{done.entered_load} {done.entered_unit}",
            reps="+".join(map(str, done.reps)),
            rir=rir_text(done.rir_low, done.rir_high),
            place=entry.place,
            text=entry.text,
            doubt=doubts.get(done.row, ""),
        )
        for done, entry in zip(draft.sets, draft.entries, strict=True)
        if not people or done.lifter == person
    )
    if beside is None or people:
        return ImportPreview(draft, rows, people, person)
    questions = {one.id: one for one in (*beside.questions, *draft.questions)}
    draft = replace(draft, questions=tuple(questions.values()))
    return ImportPreview(draft, rows, people, person, beside.checkins)


def _of_measures(paths: Sequence[Path], wishes: Wishes, no_sets: NoSets) -> ImportPreview:
    """The check-ins of an export; `no_sets` again where its headings name no measure."""
    try:
        found = measures_among(paths, wishes)
    except BadInput:
        if any(key.startswith("column-") for key in wishes.answers):
            raise
        raise no_sets from None
    draft = Draft((), (), found.skipped, found.questions, {})
    return ImportPreview(draft, (), (), "", found.checkins)


def store_batch(by: User, row: Lifter, batch: Batch, now: datetime) -> int:
    """Stores what the preview shows; how many facts were new. The answered names are remembered
    and applied to what is stored. BadInput where it was decided meanwhile."""
    with locked(row.key):
        batch.refresh_from_db()
        _require(batch, Batch.WAITING)
        found = preview(batch)
        if not (found.rows or found.checkins):
            raise BadInput.of("nothing can be stored yet", "answer what is asked first")
        sent = []
        if own := found.sets:
            sent.append(Given(name="sets.csv", content=sets_csv(own).encode()))
        if found.checkins:
            sent.append(Given(name="checkins.csv", content=checkins_csv(found.checkins).encode()))
        taken = import_files(by, row, sent, now, batch=batch)
        remember_names(by, row, _answered(batch, found.draft), now)
        return taken.sets + taken.checkins


def take_back(by: User, row: Lifter, batch: Batch, now: datetime) -> int:
    """Withdraws every fact of the import that still stands; how many."""
    with locked(row.key):
        batch.refresh_from_db()
        _require(batch, Batch.STORED)
        facts = facts_of(row)
        own = of_imports(facts, {batch.stored_at})
        knew = last_seq(row)
        words = [
            amendment(by, row, one.last, now, knew=knew, amends=one.first.id, withdrawn=True)
            for one in verdicts(facts)
            if one.stands and one.first.id in own
        ]
        append_all(words, row, by, now)
        batch.state = Batch.TAKEN_BACK
        batch.save(update_fields=["state"])
        return len(words)


def drop(batch: Batch) -> None:
    _require(batch, Batch.WAITING)
    batch.delete()


def forget_old_files(now: datetime) -> None:
    """Deletes what waited too long for a word, files and all: at each start of the site, each look
    at a roster or the imports, each upload."""
    waits_for = timedelta(days=default_policy().whole("imports.waits_days"))
    Batch.objects.filter(state=Batch.WAITING, made_at__lt=now - waits_for).delete()


def remember_names(by: User, row: Lifter, names: Mapping[str, str], now: datetime) -> int:
    """Remembers what names mean, and says it of this lifter's stored sets; how many changed."""
    for typed, meaning in names.items():
        LiftName.objects.update_or_create(by=by, typed=typed[:200], defaults={"lift": meaning})
    meant = {typed.casefold(): lift for typed, lift in names.items() if typed != lift}
    if not meant:
        return 0
    knew = last_seq(row)
    words = [
        amendment(by, row, fact, now, knew=knew, said={"lift": lift}, body={"lift": lift})
        for fact in standing(facts_of(row))
        if fact.kind == Fact.SET and (lift := meant.get(str(fact.body["lift"]).casefold()))
    ]
    append_all(words, row, by, now)
    return len(words)


def _known_names(by: User | None) -> dict[str, str]:
    if by is None:
        return {}
    return dict(LiftName.objects.filter(by=by).values_list("typed", "lift"))


def _answered(batch: Batch, draft: Draft) -> dict[str, str]:
    """The names a coach explained, as typed, with the lift they mean."""
    return {
        question.about: question.chosen
        for question in draft.questions
        if question.about and question.id in batch.answers and question.chosen != OWN
    }


def _require(batch: Batch, state: str) -> None:
    if batch.state != state:
        raise BadInput.of("this import was decided about meanwhile", "look at the list of imports")


def _likely(people: Sequence[str], name: str) -> str:
    """Whose rows are meant: the lifter's own name among them, or a first name alike."""
    wanted = name.casefold()
    for one in people:
        if one.casefold() in (wanted, wanted.split()[0]):
            return one
    return people[0] if people else ""


NO_COLUMN = "no column"
_ASKED = {
    DATE: "Which column is the day?",
    "bodyweight": "Which column is the bodyweight?",
    "sleep_h": "Which column is the hours asleep?",
    "steps": "Which column is the steps?",
}


def measures_among(paths: Sequence[Path], wishes: Wishes) -> CheckInsDraft:
    """What exports hold, by their headings; of one file the columns are asked about, and the
    answers obeyed. BadInput where the headings name no measure, or no column is left."""
    guessed = checkins_of(paths, {}, wishes)
    if len(paths) > 1:
        return guessed
    taken = {one.key: one.heading for one in guessed.columns}
    asked = [_asked(key, guessed.headings, taken, wishes.answers) for key in _ASKED]
    chosen = {
        question.id.removeprefix("column-"): question.chosen
        for question in asked
        if question.chosen != NO_COLUMN
    }
    if set(chosen) <= {DATE}:
        says, mend = "no column is taken", "choose one, or forget the file"
        raise BadInput.of(says, mend, file=paths[0].name)
    draft = checkins_of(paths, chosen, wishes)
    return replace(draft, questions=(*asked, *draft.questions))


def _asked(
    key: str, headings: Sequence[str], taken: Mapping[str, str], answers: Mapping[str, str]
) -> Question:
    choices = headings if key == DATE else (*headings, NO_COLUMN)
    return question_of(f"column-{key}", _ASKED[key], choices, taken.get(key, NO_COLUMN), answers)
