"""Everything about one lifter in one archive: the command line's files, and all rows as JSON."""

from datetime import datetime
from typing import Any

from blockwright.files.archive_zip import exact_json, zipped
from blockwright.files.facts_csv import checkins_csv, sets_csv
from blockwright.files.toml_text import toml_text
from blockwright.store.blocks import revisions_of
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import Decision, Fact, Lifter, Share
from blockwright.verbs.take_log import fact_json, instant_text

FORMAT = "blockwright/lifter-export/1"

_README = """Everything this site knew about {name}.

lifter.toml            the lifter file
sets.csv               sets that stand, as `blockwright check` and `plan` read them
checkins.csv           check-ins that stand
blocks/                every revision of every block
everything.json        every row: facts with amendments and withdrawals, times of the phone and of
                       the server, proposals, decisions, who has access
"""


def export_lifter(row: Lifter) -> bytes:
    """A ZIP archive; the same rows give the same bytes."""
    facts = facts_of(row)
    files = {
        "README.txt": _README.format(name=row.name),
        "lifter.toml": toml_text(row.document),
        "sets.csv": sets_csv(sets_done(facts)),
        "checkins.csv": checkins_csv(checkins(facts)),
        "everything.json": exact_json(_everything(row, facts)),
    }
    for revision in revisions_of(row):
        files[f"blocks/block-{revision.start}-r{revision.revision}.json"] = exact_json(
            revision.document
        )
    return zipped(files)


def _everything(row: Lifter, facts: list[Fact]) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "lifter": {"id": str(row.key), "name": row.name, "document": row.document},
        "access": [_access(share) for share in row.shares.select_related("person").order_by("pk")],
        "facts": [
            {**fact_json(fact), "body": fact.body, "clock_ahead_s": fact.clock_ahead_s}
            for fact in facts
        ],
        "blocks": [
            {"document": revision.document, "made_at": instant_text(revision.made_at)}
            for revision in revisions_of(row)
        ],
        "proposals": [
            {"document": letter.document, "made_at": instant_text(letter.made_at)}
            for letter in row.proposals.all()
        ],
        "decisions": [_decision(one) for one in Decision.objects.filter(proposals__lifter=row)],
    }


def _access(share: Share) -> dict[str, Any]:
    said = {"name": share.person.name, "kind": share.kind}
    return said | {"sees": share.sees} if share.kind == Share.PARTNER else said


def _decision(one: Decision) -> dict[str, Any]:
    at: datetime = one.at
    return {
        "proposal": one.proposal,
        "decision": one.verdict,
        "words": one.words,
        "change": one.change,
        "at": instant_text(at),
    }
