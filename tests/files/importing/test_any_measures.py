"""Whatever stands in an export, the answer is check-ins or plain words; and soon."""

import time
from datetime import date, timedelta
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from blockwright.engine.errors import BadInput
from blockwright.files.importing.draft import Wishes
from blockwright.files.importing.measures import checkins_of

PIECES = st.sampled_from(
    """Date|Weight (lb)|Steps|Hours asleep|Sleep|03/04/2027|2027-01-05 07:12|5 Jan|45678|82,4|7:30
|7 h 5 min|10.432|10 432|1e9|-|n/a|0|25|180 lb|12 st|999999999999|-3""".replace("\n", "").split("|")
) | st.text(max_size=8)


@settings(
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    rows=st.lists(st.lists(PIECES, max_size=5), max_size=8),
    columns=st.sampled_from([{}, {"steps": "Steps"}, {"date": "Date", "bodyweight": "Sleep"}]),
)
def test_any_grid(tmp_path: Path, rows: list[list[str]], columns: dict[str, str]) -> None:
    path = tmp_path / "export.csv"
    table = [["Date", "Weight (lb)", "Steps", "Hours asleep", "Sleep"], *rows]
    lines = [";".join(cell.replace(";", "") for cell in row) for row in table]
    path.write_text("\n".join(lines), encoding="utf-8", errors="replace")
    try:
        told = len(checkins_of([path], columns, Wishes()).checkins)
    except BadInput as error:
        told = len(error.problems)
    assert told


def test_ten_years_take_few_seconds(tmp_path: Path) -> None:
    path = tmp_path / "export.csv"
    days = [date(2018, 1, 1) + timedelta(days=at) for at in range(3650)]
    rows = [f"{day:%d.%m.%Y};82,{day.day % 10};7:30;{9000 + day.day}" for day in days]
    path.write_text("\n".join(["Date;Weight (kg);Hours asleep;Steps", *rows]), encoding="utf-8")
    began = time.process_time()
    assert len(checkins_of([path], {}, Wishes()).checkins) == 3 * len(days)
    assert time.process_time() - began < 3
