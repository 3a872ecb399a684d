"""The tables. Facts, block revisions, proposals and decisions are append-only: the database refuses
to change or to delete them (`migrations/0001_tables.py`), but for those of a lifter who is erased.

A gym and a lifter's own lifts stand inside the lifter's document, as in the lifter file: a block
carries its whole lifter, and one document is one thing to export, compare and restore."""

import uuid
from typing import Any, ClassVar

from django.db import models

from blockwright.accounts.models import User


class Lifter(models.Model):
    """One person who trains. `document` is the lifter file as a table; `version` counts changes
    so that two people at two desks cannot overwrite each other unseen."""

    key = models.UUIDField(primary_key=True, default=uuid.uuid4)
    name = models.CharField(max_length=200)
    document = models.JSONField()
    version = models.PositiveIntegerField(default=1)
    made_at = models.DateTimeField(auto_now_add=True)

    reader: int | None = None
    """The training partner this row was cut for (`store.partner`); None where nothing is cut."""

    def __str__(self) -> str:
        return self.name

    def save(self, *args: Any, **more: Any) -> None:
        self._require_whole()
        super().save(*args, **more)

    def refresh_from_db(self, *args: Any, **more: Any) -> None:
        self._require_whole()
        super().refresh_from_db(*args, **more)

    def _require_whole(self) -> None:
        if self.reader is not None:
            raise TypeError("this row was cut for a training partner: read it, no more")


class Share(models.Model):
    """What one person is to one lifter."""

    COACH, SELF, PARTNER = "coach", "self", "partner"
    KINDS: ClassVar = [(COACH, "coach"), (SELF, "the lifter"), (PARTNER, "training partner")]
    SHEETS, HISTORY = "sheets", "history"
    SEEN: ClassVar = [(SHEETS, "sheets"), (HISTORY, "sheets and history")]

    lifter = models.ForeignKey(Lifter, on_delete=models.CASCADE, related_name="shares")
    person = models.ForeignKey(User, on_delete=models.CASCADE, related_name="shares")
    kind = models.CharField(max_length=8, choices=KINDS)
    sees = models.CharField(max_length=8, choices=SEEN, default=SHEETS)
    """What a partner sees; coach and lifter see everything whatever stands here."""
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["lifter", "person"], name="store_one_share"),
        ]


class BlockRevision(models.Model):
    """One revision of a block, the whole document."""

    lifter = models.ForeignKey(Lifter, on_delete=models.CASCADE, related_name="revisions")
    start = models.DateField()  # Names the block within the lifter
    revision = models.PositiveIntegerField()
    ends = models.DateField()  # Last day of its last week
    status = models.CharField(max_length=8)
    document = models.JSONField()
    made_by = models.ForeignKey(User, null=True, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering: ClassVar = ["start", "revision"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["lifter", "start", "revision"], name="store_one_revision"
            ),
        ]

    def __str__(self) -> str:
        return f"block of {self.start}, revision {self.revision}"


class Fact(models.Model):
    """Something that happened: a set, a check-in, a turn of a session. See docs/sync.md."""

    SET, CHECKIN, SESSION = "set", "checkin", "session"
    KINDS: ClassVar = [(SET, "set"), (CHECKIN, "check-in"), (SESSION, "session")]

    seq = models.BigAutoField(primary_key=True)
    """The order in which the server got them; rises within a lifter as transactions commit."""
    id = models.UUIDField(unique=True)  # Made where the fact was made: on the phone
    lifter = models.ForeignKey(Lifter, on_delete=models.CASCADE, related_name="facts")
    kind = models.CharField(max_length=8, choices=KINDS)
    amends = models.UUIDField(null=True)
    """The fact this one stands in for; not a foreign key, since it may come first."""
    withdrawn = models.BooleanField(default=False)
    day = models.DateField()
    """The day it belongs to: after midnight still the evening the session began."""
    at = models.DateTimeField(null=True)
    """When it was done by the phone's clock; None where a file gave only a date."""
    zone = models.CharField(max_length=64, default="", blank=True)
    """IANA name; "" for a local time without a zone (kept as UTC digits)."""
    device = models.UUIDField(null=True)
    n = models.BigIntegerField(default=0)  # Running number of the device, or the row of the file
    body = models.JSONField()
    """The engine's value: `convert.set_body`, `convert.checkin_body`; of a session its event."""
    event = models.JSONField(null=True)  # What was sent, word for word; None for imported rows
    digest = models.CharField(max_length=64)
    """SHA-256 of what the event says: the same id must come with the same digest."""
    clock_ahead_s = models.FloatField(default=0.0)
    """The phone's clock minus the server's when it was sent."""
    received_at = models.DateTimeField()
    by = models.ForeignKey(User, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering: ClassVar = ["seq"]
        indexes: ClassVar = [
            models.Index(fields=["lifter", "seq"], name="store_fact_by_lifter"),
            models.Index(fields=["lifter", "day"], name="store_fact_by_day"),
        ]


class Proposals(models.Model):
    """One letter of the review: the `blockwright/proposals/1` document."""

    lifter = models.ForeignKey(Lifter, on_delete=models.CASCADE, related_name="proposals")
    block = models.ForeignKey(BlockRevision, on_delete=models.CASCADE, related_name="proposals")
    through = models.DateField()
    document = models.JSONField()
    made_at = models.DateTimeField(auto_now_add=True)

    reader: int | None = None  # As of `Lifter`

    class Meta:
        ordering: ClassVar = ["made_at", "pk"]


class Decision(models.Model):
    """What the coach decided of one proposal. A later decision stands beside it, never over it."""

    ACCEPTED, CHANGED, DECLINED, UNDONE = "accepted", "changed", "declined", "undone"
    VERDICTS: ClassVar = [(word, word) for word in (ACCEPTED, CHANGED, DECLINED, UNDONE)]

    proposals = models.ForeignKey(Proposals, on_delete=models.CASCADE, related_name="decisions")
    proposal = models.CharField(max_length=300)
    """Id of the proposal within the letter; it holds the name of a lift."""
    verdict = models.CharField(max_length=8, choices=VERDICTS)
    words = models.TextField(default="", blank=True)
    change = models.JSONField(default=dict)
    led_to = models.ForeignKey(
        BlockRevision, null=True, on_delete=models.CASCADE, related_name="decisions"
    )
    by = models.ForeignKey(User, null=True, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering: ClassVar = ["at", "pk"]


class Composing(models.Model):
    """A search for a block: asked for, on its way, made, or why not. At most one open a lifter."""

    BLOCK, REST = "block", "rest"
    KINDS: ClassVar = [(BLOCK, "a block"), (REST, "the rest of a block")]
    WAITING, SEARCHING, MADE, CLASH, FAILED = "waiting", "searching", "made", "clash", "failed"
    STATES: ClassVar = [(word, word) for word in (WAITING, SEARCHING, MADE, CLASH, FAILED)]
    OPEN = (WAITING, SEARCHING)

    lifter = models.ForeignKey(Lifter, on_delete=models.CASCADE, related_name="composings")
    kind = models.CharField(max_length=8, choices=KINDS)
    start = models.DateField()  # Names the block
    asked = models.JSONField(default=dict)
    """`previous` (a start or None), `revision` (what is there already, or 0), `today`; of the
    rest of a block `other_lifts`."""
    state = models.CharField(max_length=9, choices=STATES, default=WAITING)
    step = models.CharField(max_length=200, default="", blank=True)
    """What the search is at, in words."""
    says = models.JSONField(default=dict)
    """Why not: `problems`, or a `blockwright/clash/1` document."""
    document = models.JSONField(null=True)
    """Of the rest of a block: the revision it would be, until the coach keeps it."""
    by = models.ForeignKey(User, null=True, on_delete=models.SET_NULL, related_name="+")
    asked_at = models.DateTimeField(auto_now_add=True)
    beat_at = models.DateTimeField()  # When the search last said something

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["lifter"],
                condition=models.Q(state__in=("waiting", "searching")),
                name="store_one_search",
            ),
        ]


class Batch(models.Model):
    """One import of files: waiting for the coach's word (with what was sent), stored, or taken
    back whole. Its facts are the lifter's that were received at `stored_at`."""

    WAITING, STORED, TAKEN_BACK = "waiting", "stored", "back"
    STATES: ClassVar = [(WAITING, "waiting"), (STORED, "stored"), (TAKEN_BACK, "taken back")]

    key = models.UUIDField(primary_key=True, default=uuid.uuid4)
    lifter = models.ForeignKey(Lifter, on_delete=models.CASCADE, related_name="batches")
    by = models.ForeignKey(User, null=True, on_delete=models.SET_NULL, related_name="+")
    files = models.JSONField(default=list)  # The names; while it waits `[name, content in base64]`
    answers = models.JSONField(default=dict)
    """By the question's id; `person` is whose rows are taken of a file of several people."""
    state = models.CharField(max_length=8, choices=STATES, default=WAITING)
    facts = models.PositiveIntegerField(default=0)
    made_at = models.DateTimeField(auto_now_add=True)
    stored_at = models.DateTimeField(null=True)

    class Meta:
        ordering: ClassVar = ["-made_at"]


class HouseFrame(models.Model):
    """A block's frame under a name, for the next lifter: which basic patterns by visit, and which
    of them heavy. It knows nobody."""

    name = models.CharField(max_length=100, unique=True)
    by = models.ForeignKey(User, null=True, on_delete=models.SET_NULL, related_name="+")
    visits = models.JSONField()
    """In the order of the week: `{"day", "start", "patterns": [...], "heavy": [...]}`."""
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering: ClassVar = ["name"]


class LiftName(models.Model):
    """That this name means that lift, as a coach said once for all of their files."""

    by = models.ForeignKey(User, on_delete=models.CASCADE, related_name="lift_names")
    typed = models.CharField(max_length=200)
    lift = models.CharField(max_length=200)

    class Meta:
        ordering: ClassVar = ["typed"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["by", "typed"], name="store_one_meaning_of_a_name"),
        ]


class RosterLook(models.Model):
    """What the roster saw of a lifter when it last looked. Nothing but a cache: each part is
    looked at anew when its key (facts, block revision, lifter, version) is another."""

    lifter = models.OneToOneField(
        Lifter, primary_key=True, on_delete=models.CASCADE, related_name="roster_look"
    )
    key = models.CharField(max_length=120)
    seen = models.JSONField()
    watch_key = models.CharField(max_length=120, default="", blank=True)
    watch = models.JSONField(null=True)


class Erasure(models.Model):
    """That a lifter was erased: nothing of who they were. Lets their rows be deleted."""

    lifter_key = models.UUIDField(primary_key=True)
    at = models.DateTimeField(auto_now_add=True)
