"""How a call is described: its path, what it answers with, and who may make it."""

from collections.abc import Callable, Mapping
from typing import Any

from ninja import Router

from .documents import answers
from .errors import CHANGE_ERRORS, ERRORS

ANYONE = "Who: anyone who is signed in."
SEE = "Who: the owner, the lifter's coach, the lifter, and a training partner of theirs."
READ = (
    "Who: the owner, the lifter's coach, the lifter; a training partner where the coach shares it."
)
EXPORT = "Who: the owner, the lifter's coach, the lifter."
CHANGE = "Who: the owner and the lifter's coach."
ADD = "Who: the owner and coaches."
OWNER = "Who: the owner."  # In the words of the OpenAPI document; `store/access.py` has the table

View = Callable[[Any], Any]


class Calls(Router):
    """Calls under one tag; each fails in the one shape. `who` is said of every call, and what else
    is to know of it; `refuses` a call that may be 409, though it only reads."""

    def __init__(self, tag: str) -> None:
        super().__init__(tags=[tag])

    def reads(
        self,
        path: str,
        answer: Any,
        summary: str,
        who: str,
        *,
        refuses: bool = False,
        extra: Mapping[str, Any] | None = None,
    ) -> View:
        """What only asks: answers 200. `extra` goes into the OpenAPI document."""
        responses = {200: answer, **ERRORS} | ({409: ERRORS[404]} if refuses else {})
        return self.get(
            path,
            response=responses,
            openapi_extra=None if extra is None else dict(extra),
            summary=summary,
            description=who,
        )

    def document(
        self, path: str, name: str, summary: str, who: str, *, refuses: bool = False
    ) -> View:
        """What answers with the published document `name`."""
        return self.reads(path, dict[str, Any], summary, who, refuses=refuses, extra=answers(name))

    def changes(
        self, path: str, answer: Mapping[int, Any], summary: str, who: str, *, method: str = "POST"
    ) -> View:
        """What has a body, by its answers' status."""
        responses = {**answer, **CHANGE_ERRORS}
        return self.api_operation(
            [method], path, response=responses, summary=summary, description=who
        )

    def ends(self, path: str, summary: str, who: str, *, refuses: bool = False) -> View:
        """What deletes: answers 204."""
        responses = {204: None, **ERRORS} | ({409: ERRORS[404]} if refuses else {})
        return self.delete(path, response=responses, summary=summary, description=who)
