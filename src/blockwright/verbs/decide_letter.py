"""Stores what the coach decided about a letter, and the block revision that follows from it.

A later decision stands beside the earlier one: the block is made anew from the revision the letter
was written for, with the last word on every proposal. Undoing one is a decision too: the proposal
is open again, and the block as if it had never been decided."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, cast

from blockwright.accounts.models import User
from blockwright.engine.errors import ChangedMeanwhile, Problem
from blockwright.engine.review import KEY_OF, Offered, To, Verdict, keys_of, side_of
from blockwright.engine.review.decisions import VerdictWord
from blockwright.engine.review.proposals import Kind
from blockwright.engine.training import Block, BlockDecision
from blockwright.files.json_text import plain
from blockwright.files.lifter_file import lifter_to_table
from blockwright.files.proposals_json import ProposalsFile, proposals_from_json
from blockwright.store.access import or_404
from blockwright.store.blocks import block_of
from blockwright.store.facts import locked
from blockwright.store.letters import (
    add_decisions,
    decisions_on,
    latest_letter,
    letter_with,
    revisions_after,
    standing_on,
)
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals
from .revise_block import CoachAnswer, block_revised, verdicts_for
from .stored_values import block_value, keep_block


@dataclass(frozen=True, slots=True)
class Decided:
    """What deciding led to. `new` is false where the same had been decided already."""

    letter: Proposals
    revision: BlockRevision
    new: bool


def decide_letter(
    by: User, row: Lifter, number: int, said: Sequence[CoachAnswer], seen_revision: int
) -> Decided:
    """Decides on proposals of letter `number`, as somebody who has seen the block's revision
    `seen_revision`. Proposals not named stay open.

    Http404 for no such letter; ChangedMeanwhile where the letter, or its block, is not the last any
    more or somebody else decided since; BadInput with every verdict that cannot be carried out.
    Sending the same again stores nothing."""
    with locked(row.key):
        letter = or_404(letter_with(row, number), "letter")
        file = proposals_from_json(letter.document, "the stored letter")
        verdicts = verdicts_for(said, file)
        standing = last_words(letter, file)
        news = [v for v in verdicts if not _same(v, standing.get(v.offered.id))]
        undone = [one for one in said if one.verdict == "undone" and one.proposal in standing]
        current = or_404(block_of(row, letter.block.start), "block")
        if not news and not undone:
            return Decided(letter, current, False)
        _require_current(letter, current, seen_revision)
        gone = {one.proposal for one in undone}
        words = {name: one for name, one in standing.items() if name not in gone}
        words |= {verdict.offered.id: verdict for verdict in news}
        ordered = [words[name] for name in file.offered if name in words]
        before = block_value(current)
        made, mine = _block_made(letter, before, block_revised(
            block_value(letter.block), ordered, file.cautions), news, gone)  # fmt: skip
        revision = keep_block(row, made, by)
        new = [
            Decision(proposal=o.proposal, verdict=o.verdict, words=o.words, change=plain(o.change))
            for o in mine
        ]
        new += [
            Decision(proposal=o.proposal, verdict=Decision.UNDONE, words=o.words, change={})
            for o in undone
        ]
        add_decisions(letter, new, revision, by)
        _keep_clearance(row, before, made)
        return Decided(letter, revision, True)


def _block_made(
    letter: Proposals, before: Block, made: Block, news: Sequence[Verdict], gone: Collection[str]
) -> tuple[Block, list[BlockDecision]]:
    """The block revised anew from the letter's revision as the one after `before`, with all that
    was decided since, but what is undone; and the new decisions."""
    known = len(letter.block.document["decisions"])
    told = {decision.proposal: decision for decision in made.decisions[known:]}
    mine = [told[verdict.offered.id] for verdict in news]
    since = [one for one in before.decisions[known:] if one.proposal not in gone]
    decisions = (*made.decisions[:known], *since, *mine)
    return replace(made, revision=before.revision + 1, decisions=decisions), mine


def all_open(row: Lifter, number: int, words: str = "") -> list[CoachAnswer]:
    """A yes to every proposal of the letter on which nothing was decided."""
    letter = or_404(letter_with(row, number), "letter")
    decided = standing_on([letter]).get(letter.pk, set())
    return [
        CoachAnswer(proposal=item["id"], verdict="accepted", words=words)
        for item in letter.document["proposals"]
        if item["id"] not in decided
    ]


def obstacle(letter: Proposals, current: BlockRevision) -> Problem | None:
    """Why nothing can be decided on a letter, or None: a later letter stands, or the block was
    changed by something else than decisions on this one."""
    last = latest_letter(letter.lifter, letter.block.start)
    if last is not None and last.pk != letter.pk:
        says = f"a later letter has been written, through {last.through:%-d %B %Y}"
        return Problem(says=says, mend="decide on that one")
    own = {decision.led_to_id for decision in decisions_on(letter)}
    others = [later for later in revisions_after(letter.block) if later.pk not in own]
    if others:
        whose = others[-1].made_by
        says = (
            f"this letter was written for revision {letter.block.revision} of the block, which is "
            f"at revision {current.revision} now"
            + (f", changed by {whose.name}" if whose is not None else "")
        )
        return Problem(says=says, mend="write the letter anew")
    return None


def last_words(letter: Proposals, file: ProposalsFile) -> dict[str, Verdict]:
    """By proposal: the last decision on it, as the engine's verdict; none where it was undone."""
    last = {one.proposal: one for one in decisions_on(letter) if one.proposal in file.offered}
    return {
        name: _verdict(file.offered[name], decision)
        for name, decision in last.items()
        if decision.verdict != Decision.UNDONE
    }


def _require_current(letter: Proposals, current: BlockRevision, seen_revision: int) -> None:
    problem = obstacle(letter, current)
    if problem is None and seen_revision != current.revision:
        whose = current.made_by.name if current.made_by is not None else "somebody"
        problem = Problem(
            says=f"{whose} decided on this letter meanwhile (revision {current.revision})",
            mend="read what was decided, then decide again",
        )
    if problem is not None:
        raise ChangedMeanwhile(problem)


def _keep_clearance(row: Lifter, before: Block, made: Block) -> None:
    """A clearance written down with a decision holds for the blocks to come as well; one that was
    undone holds for none."""
    if made.lifter.screening == before.lifter.screening:
        return
    row.refresh_from_db()
    table: dict[str, Any] = lifter_to_table(made.lifter)
    row.document = row.document | {"screening": plain(table["screening"])}
    row.version += 1
    row.save(update_fields=["document", "version"])


def _verdict(offered: Offered, decision: Decision) -> Verdict:
    cleared = decision.change.get("cleared_on")
    to: To | None = None
    if decision.verdict == Decision.ACCEPTED:
        to = offered.after
    elif decision.verdict == Decision.CHANGED and cleared is None:
        to = changed_to(offered.kind, decision.change)
    return Verdict(
        offered=offered,
        verdict=cast(VerdictWord, decision.verdict),
        to=to,
        cleared_on=None if cleared is None else date.fromisoformat(cleared),
        words=decision.words,
    )


def changed_to(kind: Kind, change: Mapping[str, Any]) -> To | None:
    """What a stored change made of a proposal of this kind; None for a clearance."""
    key = next((name for name in keys_of(kind) if name in change and name != "then"), None)
    if key is None or KEY_OF[kind] is None:
        return None
    side: Mapping[str, Any] = {name: change[name] for name in (key, "then") if name in change}
    return side_of(side)


def _same(one: Verdict, other: Verdict | None) -> bool:
    return other is not None and _as_stored(one) == _as_stored(other)


def _as_stored(one: Verdict) -> Verdict:
    return one if one.to is None else replace(one, to=replace(one.to, value=plain(one.to.value)))
