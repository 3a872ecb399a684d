"""Who may call what, in the words of the OpenAPI document. `store/access.py` has the table."""

ANYONE = "Who: anyone who is signed in."
SEE = "Who: the owner, the lifter's coach, the lifter, and a training partner of theirs."
READ = (
    "Who: the owner, the lifter's coach, the lifter; a training partner where the coach shares it."
)
EXPORT = "Who: the owner, the lifter's coach, the lifter."
CHANGE = "Who: the owner and the lifter's coach."
ADD = "Who: the owner and coaches."
OWNER = "Who: the owner."
