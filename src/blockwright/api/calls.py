"""How a call is described: its path, what it answers with, and who may make it."""

from collections.abc import Callable, Mapping
from typing import Any

from ninja import Router

from .documents import answers
from .errors import CHANGE_ERRORS, ERRORS

# In the words of the OpenAPI document; `store/access.py` has the table.
ANYONE = "Who: anyone who is signed in."
SEE = "Who: the owner, the lifter's coach, the lifter, and a training partner of theirs."
READ = (
    "Who: the owner, the lifter's coach, the lifter; a training partner where the coach shares it."
)
EXPORT = "Who: the owner, the lifter's coach, the lifter."
CHANGE = "Who: the owner and the lifter's coach."
ADD = "Who: the owner and coaches."
OWNER = "Who: the owner."

View = Callable[..., Any]
Described = Callable[[View], View]


class Calls(Router):
    """Calls under one tag; each fails in the one shape. A view's docstring is what the OpenAPI
    document says of it: the first sentence its summary, the rest behind `who`."""

    def __init__(self, tag: str) -> None:
        super().__init__(tags=[tag])

    def reads(
        self, path: str, answer: Any, who: str, *, refuses: bool = False, **more: Any
    ) -> Described:
        """What only asks: answers 200, or 409 where it `refuses`. `more` as Ninja has it."""
        responses = {200: answer, **ERRORS} | ({409: ERRORS[404]} if refuses else {})
        return self._call("GET", path, responses, who, **more)

    def document(self, path: str, name: str, who: str, *, refuses: bool = False) -> Described:
        """What answers with the published document `name`."""
        extra = answers(name)
        return self.reads(path, dict[str, Any], who, refuses=refuses, openapi_extra=extra)

    def changes(
        self, path: str, answer: Mapping[int, Any], who: str, *, method: str = "POST"
    ) -> Described:
        """What has a body, by its answers' status."""
        return self._call(method, path, {**answer, **CHANGE_ERRORS}, who)

    def ends(self, path: str, who: str, *, refuses: bool = False) -> Described:
        """What deletes: answers 204, or 409 where it `refuses`."""
        responses = {204: None, **ERRORS} | ({409: ERRORS[404]} if refuses else {})
        return self._call("DELETE", path, responses, who)

    def _call(
        self, method: str, path: str, responses: dict[int, Any], who: str, **more: Any
    ) -> Described:
        def described(view: View) -> View:
            summary, _, rest = " ".join((view.__doc__ or "").split()).partition(". ")
            said: Any = {"summary": summary.rstrip("."), "description": f"{who} {rest}".strip()}
            made: Described = self.api_operation([method], path, response=responses, **said, **more)
            return made(view)

        return described
