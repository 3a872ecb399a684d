"""Warning signs in notes: what is raised, what is harmless, what is denied. All notes invented."""

from pathlib import Path

import pytest

from blockwright.engine.signs import QUESTIONS, WHOLE_BODY_SIGNS
from blockwright.files.signs import evidence, tables
from blockwright.files.signs.grammar import signs_by_rule, signs_found
from blockwright.files.signs.reading import NoteReading

HERE = Path(__file__).parent
DEVELOPED, HELD_BACK = slice(0, None, 2), slice(1, None, 2)
"""The grammar was tuned on the first half; of the other only the two counts were looked at."""
FAMILY_SIGNS = {
    "chest": {"chest pain"},
    "breath": {"breathlessness", "coughed-up blood"},
    "faint": {"faintness"},
    "heart": {"an irregular or racing heart"},
    "arm": {"pain in arm, jaw or neck", "chest pain", "numbness"},
    "head": {"a sudden headache or change of sight", "faintness"},
    "urine": {"dark urine", "extreme swelling or weakness"},
    "numb": {"numbness"},
    "calf": {"calf pain or swelling", "extreme swelling or weakness"},
    "sharp": {"sharp pain"},
}


def test_the_tables_of_weights_are_whole() -> None:
    assert len("".join(tables.WEIGHTS.split())) == evidence.BUCKETS
    assert tables.START < 0
    assert all(len(entry.split()) > 1 for entry in tables.MEANT.split(";"))


def lines(name: str) -> list[str]:
    text = (HERE / name).read_text(encoding="utf-8")
    return [line for line in text.splitlines() if line and not line.startswith("#")]


def named(note: str) -> list[str]:
    return [one.sign for one in signs_found(note)]


def notes_of(author: str) -> list[tuple[str, str]]:
    rows = [line.split("\t", 1) for line in lines(f"notes_{author}.tsv")]
    return [(family, note) for family, note in rows]


@pytest.mark.parametrize(
    ("note", "is_raised"),
    [
        ("weight on my chest was 80", False),
        ("dizzying number of people in the gym tonight", False),
        ("dizzying after the third set", True),
        ("80 kg on my chest, paused 3 sec", False),
        ("25 kg plate on my chest for the sit ups", False),
        ("band round my chest for resistance on press ups", False),
        ("collapsed the rest times to 60s", False),
        ("couldnt see the clock, a rack in the way", False),
        ("strap over the shoulder slipped", False),
        ("my chest hair got caught in the zip", False),
        ("inside of the right elbow after lying extensions", False),
        ("dragged my feet to the gym, set 3 dead on 8", False),
        ("fingers gone dead on right hand, dropping the bar", True),
        ("my foot drags a bit since sunday", True),
        ("sweating, couldnt see for a few secs", True),
        ("weight on my chest when i walk up stairs", True),
        ("like 80 kg on my chest, couldnt breathe", True),
        ("band round my chest tightening", True),
        ("spat a bit of pink froth after the sled", True),
    ],
)
def test_a_load_on_a_part_of_the_body_is_no_sign(note: str, is_raised: bool) -> None:
    assert bool(signs_found(note)) is is_raised


@pytest.mark.parametrize(
    ("author", "signs", "harmless"),
    [("held_out", 150, 150), ("held_out_p", 120, 120), ("held_out_q", 120, 110),
     ("held_out_r", 60, 60), ("held_out_s", 60, 60), ("held_out_t", 7, 37),
     ("held_out_w", 126, 94)],
)  # fmt: skip
def test_notes_nobody_tuned_on(author: str, signs: int, harmless: int) -> None:
    """They serve for counting only; `docs/safety.md` says what is asked and what is reached."""
    found: dict[bool, list[bool]] = {True: [], False: []}
    for family, note in notes_of(author):
        found[family != "none"].append(bool(signs_found(note)))
    assert (len(found[True]), len(found[False])) == (signs, harmless)
    assert found[True].count(False) <= 0.05 * signs
    assert found[False].count(True) <= 0.1 * harmless


@pytest.mark.parametrize(
    ("note", "is_raised"),
    [
        ("not dizzy until the last set", True),
        ("didnt faint, nearly did", True),
        ("didnt pass out but almost did", True),
        ("cant say i wasnt dizzy", True),
        ("not surprised i nearly passed out", True),
        ("the pain in the chest isnt there anymore, it was though", True),
        ("was told to stop if my chest hurts. it did. i stopped", True),
        ("was told to stop if my chest hurts. it didnt", False),
        ("never dizzy, trained until nine", False),
        ("not dizzy but nearly dropped the bar", False),
        ("didnt faint or anything, just sweaty", False),
    ],
)
def test_a_denial_or_an_if_that_is_taken_back_denies_nothing(note: str, is_raised: bool) -> None:
    assert bool(signs_found(note)) is is_raised


@pytest.mark.parametrize("sign", ["palpitations", "dizziness", "chest pain", "numbness"])
def test_who_was_asked_for_a_sign_and_says_yes_has_it(sign: str) -> None:
    for asked in (f"asked about {sign}", f"coach asked about {sign}"):
        said = [
            f"{asked}{mark}{yes}"
            for mark in (". ", ": ", ", ", "? ", " and i said ")
            for yes in ("yes", "yep")
        ]
        assert [one for one in said if not signs_found(one)] == []
        assert not signs_found(f"{asked}. no")
    assert not signs_found("told to stop if dizzy. yesterday was easy")


JOINTS = ("elbow", "knee", "shoulder", "wrist", "hip", "ankle", "lower back", "foot", "groin")
SIDES = ("", "left ", "inside of the right ", "top of the ")


@pytest.mark.parametrize("joint", JOINTS)
def test_a_plain_pain_of_a_joint_is_no_sign(joint: str) -> None:
    """It goes by the bands for pain; half of 4,131 such notes were referred."""
    says = (
        "{}, pain 3",
        "{} pain 2 on curls",
        "{} a bit sore, 2/10",
        "pain 3 in the {}",
        "{} 4/10",
    )
    notes = [one.format(f"{side}{joint}") for side in SIDES for one in says]
    raised = [note for note in notes if signs_found(note)]
    assert raised == []


@pytest.mark.parametrize("joint", JOINTS)
def test_a_joint_that_hurts_a_little_is_no_sign_on_either_side(joint: str) -> None:
    """Of "a bit pinchy on the way down" one side was referred and the other not."""
    says = ("a bit pinchy", "slightly sore", "a little achy", "a bit of a pinch")
    where = ("", " on the way down", " on the way up", " at the bottom", " in the last set")
    notes = [f"{side}{joint} {one}{at}" for side in SIDES for one in says for at in where]
    assert [note for note in notes if signs_found(note)] == []
    more = ("and fingers numb", "then it popped", "and walking uphill too, chest tight")
    sides = [f"{side}{joint} a bit sore {one}" for side in SIDES for one in more]
    assert [note for note in sides if not signs_found(note)] == []


@pytest.mark.parametrize("joint", JOINTS)
def test_a_joint_that_hurts_in_one_part_of_a_lift_is_no_sign(joint: str) -> None:
    """Of "knee aches going down" a letter asked whether the pain was sharp."""
    says = ("aches", "hurts", "is sore", "pain 3")
    where = ("going down", "coming up", "on the way down", "at the bottom", "at the top")
    notes = [f"{side}{joint} {one} {at}" for side in SIDES for one in says for at in where]
    assert [note for note in notes if signs_found(note)] == []
    more = (
        "aches going down the leg, toes numb",
        "stabs going down",
        "hurts at the top, chest tight",
    )
    notes = [f"{joint} {one}" for one in more]
    notes += ["pain going down left arm", "left shoulder aches at exertion", "back pain down a leg"]
    assert [note for note in notes if not signs_found(note)] == []


@pytest.mark.parametrize("joint", JOINTS)
def test_a_low_number_hides_no_sign_beside_it(joint: str) -> None:
    says = (
        "sharp {} pain 2", "{} went pop, pain 3", "{} pain 3, fingers numb", "{} gave way, pain 3",
        "{} pain 2 shooting down", "{} pain 3, chest tight", "pain 2 in {} and jaw",
        "{} 3/10 then it tore", "{} ache 3 and dizzy", "pain 3 {} and swollen hot",
    )  # fmt: skip
    notes = [one.format(f"{side}{joint}") for side in SIDES for one in says]
    missed = [note for note in notes if not signs_found(note)]
    assert missed == []


def test_a_note_may_speak_against_the_surest_words() -> None:
    found = signs_found("blacked out on the stairs after squats")
    assert any(one.sure for one in found)
    assert not signs_found("blacked out the windows of the garage gym, cooler now")


@pytest.mark.parametrize(
    "note",
    [
        "coughed up a bit of blood after the sled",
        "coughing fit after intervals, blood on my sleeve",
        "pink froth came up when i coughed",
        "blood in my phlegm since sunday",
        "red streaks in what i cough up",
    ],
)
def test_coughed_up_blood_is_a_sign_of_the_whole_body(note: str) -> None:
    assert "coughed-up blood" in {*named(note)} & WHOLE_BODY_SIGNS


@pytest.mark.parametrize(
    "note",
    [
        "bit of a cough, no blood, no fever", "ripped callus, blood on the bar",
        "bloods back, all normal", "hack squats felt good today", "spat blood, bit my tongue",
    ],
)  # fmt: skip
def test_blood_and_coughs_of_other_kinds_are_none(note: str) -> None:
    assert named(note) == []


def test_what_sounds_like_a_sign_by_its_rule_alone_is_asked_about() -> None:
    """Its words as a whole leave a doubt: nobody is told to stop without being asked."""
    found = signs_found("tingle of pride when the 100 went up")
    assert not any(one.sure for one in found)
    assert all(one.sure for one in signs_found("some chest pain on the last set"))


def test_the_question_fits_the_words() -> None:
    """Where only the words together speak, a wrong question is worse than an open one."""
    right, wrong = 0, 0
    for family, note in notes_of("held_out"):
        found = signs_found(note)
        if family == "none" or not found or signs_by_rule(NoteReading(note)):
            continue
        family = family.split("_", maxsplit=1)[0]
        signs = FAMILY_SIGNS.get({"faintness": "faint"}.get(family, family), set())
        right += bool({*named(note)} & signs)
        wrong += not {*named(note)} & (signs | {"a possible warning sign"})
    assert right + wrong > 5
    assert wrong <= right / 2


def test_what_only_the_words_together_tell_is_asked_about() -> None:
    found = signs_found("foot keeps slapping the floor when i walk since the deadlifts")
    assert found
    assert not any(one.sure for one in found)


@pytest.mark.parametrize("half", [DEVELOPED, HELD_BACK], ids=["developed", "held back"])
def test_signs_are_raised_and_harmless_notes_are_not(half: slice) -> None:
    notes = [line.split(" | ") for line in lines("invented_signs.txt")][half]
    missed = [note for _, note in notes if not signs_found(note)]
    assert len(notes) >= 110
    assert len(missed) <= 0.05 * len(notes), missed
    harmless = lines("invented_harmless.txt")[half]
    raised = [note for note in harmless if signs_found(note)]
    assert len(harmless) >= 100
    assert len(raised) <= 0.05 * len(harmless), raised


def test_signs_are_called_by_their_family() -> None:
    notes = [line.split(" | ") for line in lines("invented_signs.txt")]
    wrong = [n for family, n in notes if named(n) and not FAMILY_SIGNS[family] & {*named(n)}]
    assert len(wrong) <= 0.05 * len(notes), wrong


def test_the_notes_it_was_made_with() -> None:
    notes = lines("invented_more.txt")
    wrong = [note for note in notes if bool(signs_found(note[2:])) != (note[0] == "+")]
    assert len(wrong) <= 0.03 * len(notes), wrong


@pytest.mark.parametrize(
    ("note", "sign", "sure"),
    [
        ("some chest pain on the last set", "chest pain", True),
        ("no sleep, an ache across the chest since lunch", "chest pain", False),
        ("breastbone burns", "chest pain", True),
        ("chest pain, gone now", "chest pain", True),
        ("not without chest pain", "chest pain", True),
        ("panting from nothing", "breathlessness", True),
        ("breth would not come back between sets", "breathlessness", False),
        ("all went grey", "faintness", True),
        ("lights went out at the top of the deadlift", "faintness", True),
        ("next thing I knew I was on the mat", "faintness", False),
        ("diziness after set 2", "faintness", True),
        ("not dizzy at first but dizzy later", "faintness", False),
        ("heart galloping", "an irregular or racing heart", False),
        ("an ache in the left jaw", "pain in arm, jaw or neck", False),
        ("sudden headache on the last rep", "a sudden headache or change of sight", True),
        ("water like coffee after leg day", "dark urine", True),
        ("arms swollen, cannot bend them", "extreme swelling or weakness", False),
        ("numbnes in two fingers", "numbness", True),
        ("calf hurts at rest", "calf pain or swelling", True),
        ("felt a pop in the shoulder", "sharp pain", True),
        ("sharp pain in the shoulder", "sharp pain", True),
    ],
)
def test_a_sign_is_called_by_name(note: str, sign: str, sure: bool) -> None:
    found = {one.sign: one.sure for one in signs_found(note)}
    assert found.get(sign) is sure, found


@pytest.mark.parametrize(
    "note",
    [
        "", "easy", "no chest pain", "no chest pain or dizziness", "no pain, numbness or tingling",
        "never dizzy", "without numbness", "wasn't dizzy", "dizzy? no", "numbness: none at all",
        "chest press felt good", "machine chest press was taken", "great chest pump",
        "calves sore from Tuesday", "grip gave out on the last rep", "heart rate strap slipped",
        "numb from boredom", "popped in late", "sharp session", "sharp lockout on every rep",
        "lights in the gym went out halfway", "lights went out, power cut",
        "out of breath after the sled as usual",
        "coach said stop if chest pain", "my mate fainted", "read about rhabdo",
    ],
)  # fmt: skip
def test_denied_supposed_harmless_and_other_peoples(note: str) -> None:
    assert named(note) == []


@pytest.mark.parametrize(
    "note",
    [
        "no belt, chest pain", "no belt chest pain", "no sleep dizzy all session",
        "no warm up but chest pain", "no dizziness. chest pain though",
        "my mate said i fainted", "not sure if i fainted", "dizzy, no idea why",
        "never felt chest pain like this",
    ],
)  # fmt: skip
def test_a_denial_or_another_person_elsewhere_hides_nothing(note: str) -> None:
    assert named(note), note


def test_any_text_is_read_in_time() -> None:
    for note in ("chest " * 2000, "?" * 5000, "\x00\ud800 pain", "no or " * 1000 + "dizzy"):
        assert isinstance(signs_found(note), tuple)


def test_every_sign_has_its_question() -> None:
    assert all(question.endswith("?") for question in QUESTIONS.values())
    found = {s for line in lines("invented_signs.txt") for s in named(line.split(" | ")[1])}
    found |= {*named("coughed up blood after the sled")}
    assert found >= set(QUESTIONS) - {"a possible warning sign"}
