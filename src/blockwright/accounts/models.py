"""Tables of people and of the one-time links that let them in."""

import hashlib
import secrets
from datetime import datetime, timedelta
from typing import Any, ClassVar, Literal

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower

Role = Literal["owner", "coach", "partner", "lifter"]
SIGN_IN_NAME_LETTERS = 80


class UserManager(BaseUserManager["User"]):
    """Makes accounts; sign-in names are the same whatever their case."""

    def create_user(
        self, sign_in_name: str, password: str | None, *, name: str, role: Role
    ) -> "User":
        user = self.model(sign_in_name=sign_in_name.strip(), name=name.strip(), role=role)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> "User":
        name = (username or "").strip()
        # Longer ones are nobody's, and more than SQLite compares.
        if len(name) > SIGN_IN_NAME_LETTERS:
            raise self.model.DoesNotExist
        return self.get(sign_in_name__iexact=name)


class User(AbstractBaseUser):
    """Somebody who signs in.

    `role` says what a person is to the whole site: the owner may do everything; a coach may add
    lifters; partners and lifters see what is shared with them. What a person may do for one lifter
    stands in `store.Share`."""

    OWNER, COACH, PARTNER, LIFTER = "owner", "coach", "partner", "lifter"
    ROLES: ClassVar = [
        (OWNER, "owner"),
        (COACH, "coach"),
        (PARTNER, "training partner"),
        (LIFTER, "lifter"),
    ]

    sign_in_name = models.CharField(max_length=SIGN_IN_NAME_LETTERS, unique=True)
    name = models.CharField(max_length=120)
    role = models.CharField(max_length=8, choices=ROLES)
    units = models.CharField(max_length=2, choices=[("kg", "kg"), ("lb", "lb")], default="kg")
    zone = models.CharField(max_length=64, default="", blank=True)
    is_active = models.BooleanField(default=True)
    made_at = models.DateTimeField(auto_now_add=True)

    USERNAME_FIELD = "sign_in_name"
    REQUIRED_FIELDS: ClassVar = ["name", "role"]

    objects: ClassVar[UserManager] = UserManager()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(Lower("sign_in_name"), name="accounts_one_name_any_case")
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_owner(self) -> bool:
        return self.role == self.OWNER

    @property
    def may_add_lifters(self) -> bool:
        return self.role in (self.OWNER, self.COACH)


class Invitation(models.Model):
    """A one-time link. Only a hash of its token is kept."""

    LASTS = timedelta(days=7)

    token_hash = models.CharField(max_length=64, unique=True)
    role = models.CharField(max_length=8, choices=User.ROLES)
    lifter_key = models.UUIDField(null=True)
    """The lifter the new account is, or trains with; None for owner and coach."""
    sees = models.CharField(max_length=8, default="sheets")
    """What a partner will see, in the words of `store.Share`."""
    person = models.ForeignKey(User, null=True, on_delete=models.CASCADE, related_name="+")
    """Whose account it opens again: one read from an archive, without a password."""
    made_by = models.ForeignKey(User, null=True, on_delete=models.CASCADE, related_name="+")
    """None for the link printed at the first start."""
    made_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    lifter: Any = None  # Of `lifter_key`, where it was looked up

    @property
    def until(self) -> datetime:
        return self.made_at + self.LASTS

    @staticmethod
    def new_token() -> str:
        return secrets.token_urlsafe(24)

    @staticmethod
    def hashed(token: str) -> str:
        return hashlib.sha256(token.encode()).hexdigest()

    def is_open(self, now: datetime) -> bool:
        # Not for longer where the clock was set back.
        return self.used_at is None and abs(now - self.made_at) < self.LASTS
