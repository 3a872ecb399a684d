"""Invented lifters on whose blocks a coach's rules are read. No such people, gyms or logs.

`PEOPLE` says who they are; `write_people` writes their lifter files, logs and check-ins.
"""

from coach_people.gyms import GYMS
from coach_people.logs import log_rows
from coach_people.people import PEOPLE, Person
from coach_people.write import Files, write_people, write_person

__all__ = ["GYMS", "PEOPLE", "Files", "Person", "log_rows", "write_people", "write_person"]
