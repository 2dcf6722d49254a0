"""A code from the phone as second step of signing in (TOTP, RFC 6238, by pyotp): optional, each person's own choice.

The secret is sealed, the codes on paper are kept as keyed digests, comparison takes constant time, and a code that
was accepted once is refused from then on.
"""

import hmac
import secrets
from datetime import datetime, timedelta

import pyotp
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from .models import Coach, RecoveryCode, SecondFactor
from .sealed import SealBroken, seal, unseal
from .share import keyed_digest

STEP_SECONDS = 30
SLACK_STEPS = 1
"""A phone's clock may be half a minute off, either way."""
RECOVERY_CODES = 10
TRIES, TRIES_WINDOW = 8, timedelta(minutes=15)
_PURPOSE = "second-factor"


def is_on(coach: Coach) -> bool:
    """Say whether this person's sign-in asks for a code. One query."""
    return SecondFactor.objects.filter(coach=coach, confirmed_at__isnull=False).exists()


@transaction.atomic
def start(*, coach: Coach) -> tuple[str, str]:
    """Make a secret that does not count yet; return it, and the address that a QR code carries to the phone."""
    factor, _ = SecondFactor.objects.select_for_update().get_or_create(coach=coach, defaults={"created_by": coach})
    if factor.confirmed_at is not None:
        raise ValidationError("It is on already. Turn it off first to begin anew.")
    secret = _secret_of(factor)
    if secret is None:
        secret = pyotp.random_base32()
        factor.sealed_secret = seal(secret, purpose=_PURPOSE)
        factor.save(update_fields=["sealed_secret"])
    return secret, pyotp.TOTP(secret).provisioning_uri(name=coach.username, issuer_name="Holdfast")


@transaction.atomic
def confirm(*, coach: Coach, code: str, now: datetime) -> list[str] | None:
    """Turn it on with a first right code; return the codes for paper, shown once. None where the code is wrong."""
    factor = SecondFactor.objects.select_for_update().filter(coach=coach, confirmed_at__isnull=True).first()
    step = _step_of(factor, code, now) if factor else None
    if step is None:
        return None
    factor.confirmed_at, factor.last_step = now, step
    factor.save(update_fields=["confirmed_at", "last_step"])
    codes = [f"{secrets.token_hex(3)}-{secrets.token_hex(3)}" for _ in range(RECOVERY_CODES)]
    RecoveryCode.objects.bulk_create(RecoveryCode(factor=factor, digest=_digest(code)) for code in codes)
    return codes


def check(*, coach: Coach, code: str, now: datetime) -> bool:
    """Say whether a code opens the second step, and use it up. Wrong ones are counted in the database:
    ValidationError with a sentence after eight within a quarter of an hour, for a right code too."""
    with transaction.atomic():
        factor = SecondFactor.objects.select_for_update().get(coach=coach, confirmed_at__isnull=False)
        if factor.wrong_since is None or abs(now - factor.wrong_since) >= TRIES_WINDOW:
            factor.wrong_since, factor.wrong_answers = now, 0
        if factor.wrong_answers >= TRIES:
            raise ValidationError("Too many wrong codes. Try again in 15 minutes.", code="closed")
        if _accept(factor, code, now):
            return True
        factor.wrong_answers += 1
        factor.save(update_fields=["wrong_answers", "wrong_since"])
        return False


def codes_left(*, coach: Coach) -> int:
    """Return how many codes on paper are unused. One query."""
    return RecoveryCode.objects.filter(factor__coach=coach, used_at__isnull=True).count()


def turn_off(*, coach: Coach) -> bool:
    """Forget the secret and the codes; False where there was nothing."""
    return bool(SecondFactor.objects.filter(coach=coach).delete()[0])


def _accept(factor: SecondFactor, code: str, now: datetime) -> bool:
    step = _step_of(factor, code, now)
    if step is not None:
        factor.last_step = step
        factor.save(update_fields=["last_step"])
        return True
    digest = _digest(code)
    for kept in factor.recovery_codes.filter(used_at__isnull=True):
        if hmac.compare_digest(kept.digest, digest):
            kept.used_at = timezone.now()
            kept.save(update_fields=["used_at"])
            return True
    return False


def _step_of(factor: SecondFactor, code: str, now: datetime) -> int | None:
    """Return the time step that this code belongs to, None where it is wrong or was used before. Every candidate
    is compared, so that the time taken says nothing."""
    plain = "".join(code.split())
    if not (plain.isascii() and plain.isdigit()):
        return None
    secret = _secret_of(factor)
    if secret is None:
        return None
    maker = pyotp.TOTP(secret)
    here = int(now.timestamp()) // STEP_SECONDS
    steps = range(here - SLACK_STEPS, here + SLACK_STEPS + 1)
    fits = [step for step in steps if hmac.compare_digest(maker.at(step * STEP_SECONDS), plain)]
    return next((step for step in fits if step > factor.last_step), None)


def _secret_of(factor: SecondFactor) -> str | None:
    """Return the secret; None where there is none yet, or the installation's key was changed since: then no code
    fits, and the second step is turned off on the machine itself."""
    try:
        return unseal(factor.sealed_secret, purpose=_PURPOSE) if factor.sealed_secret else None
    except SealBroken:
        return None


def _digest(code: str) -> str:
    return keyed_digest(purpose="recovery", secret="".join(code.split()).casefold())
