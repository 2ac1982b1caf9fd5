"""Keys under passwords: the derivation by another library, and many at once."""

import json
import subprocess
import sys
from base64 import b64decode
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

from models.signing import wrapping

ROOT = Path(__file__).parents[3]
AT_ONCE = """
from threading import Thread
from models.signing.wrapping import unwrap, wrap

wrapped, opened = wrap(b"key", "a sentence", "person"), []
def open_it():
    opened.extend(unwrap(wrapped, "a sentence", "person") for _ in range(3))
threads = [Thread(target=open_it, daemon=True) for _ in range(4)]
for thread in threads:
    thread.start()
for thread in threads:
    thread.join()
print(len(opened), set(opened))
"""

PASSWORDS = {
    "a sentence": "stripe-of-paint",
    "beyond ASCII": "Bügelmeßschraube № 7 🔧",
    "half of a surrogate pair": "torque \ud83d",
}


@pytest.mark.parametrize("password", PASSWORDS.values(), ids=PASSWORDS)
def test_openssls_argon2id_opens_what_was_wrapped(password: str) -> None:
    """RFC 9106 by another implementation: what is stored can be read without ours."""
    data = json.loads(wrapping.wrap(b"a private key", password, "person"))
    key = Argon2id(
        salt=b64decode(data["salt"]),
        length=32,
        iterations=data["passes"],
        lanes=data["lanes"],
        memory_cost=data["memory_kib"],
    ).derive(password.encode("utf-8", "surrogatepass"))
    sealed, nonce = b64decode(data["sealed"]), b64decode(data["nonce"])
    assert AESGCM(key).decrypt(nonce, sealed, b"person") == b"a private key"


def test_people_who_sign_at_once_do_not_wait_for_each_other_for_ever() -> None:
    done = subprocess.run(
        [sys.executable, "-c", AT_ONCE],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert done.stdout.strip() == "12 {b'key'}"
