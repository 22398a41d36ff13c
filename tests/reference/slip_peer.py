#!/usr/bin/python3
"""Reads slips that `stanch slip write` made, and makes slips that `stanch slip read` must take, with other libraries than
ours: python3-jwcrypto for JWS and thumbprints, zlib for DEFLATE, zbarimg for symbols, qrencode to draw ours. Base45, the
split and the compact form are written here anew from docs/formats/slip.md.

Run with the system's Python; needs build/release/bin/stanch, python3-jwcrypto, zbar-tools and qrencode.
Exit code 0 when all agree, 1 when something does not, 77 when a library, a tool or the command is missing.
"""
import base64
import datetime
import glob
import json
import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile
import uuid
import zlib

root = pathlib.Path(__file__).parents[2]
stanch = root / "build/release/bin/stanch"
try:
    from jwcrypto import jwk, jws
except ImportError:
    print("slip_peer: skipped, python3-jwcrypto is not installed")
    sys.exit(77)
for tool in ("zbarimg", "qrencode"):
    if not shutil.which(tool):
        print(f"slip_peer: skipped, {tool} is not installed")
        sys.exit(77)
if not stanch.exists():
    print("slip_peer: skipped, build/release/bin/stanch is not built")
    sys.exit(77)

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
WORDS = " ".join(re.findall(r'^    "(.*?)"', (root / "core/stanch/slip/words.cpp").read_text(), re.M)).split()
passed = failed = 0


def check(name, holds):
    global passed, failed
    if holds:
        passed += 1
    else:
        failed += 1
        print("slip_peer:", name)


def b64(data):
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode()


def unb64(text):
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def unbase45(text):
    out = b""
    for i in range(0, len(text), 3):
        part = text[i : i + 3]
        value = sum(ALPHABET.index(c) * 45**k for k, c in enumerate(part))
        out += value.to_bytes(2 if len(part) == 3 else 1, "big")
    return out


def base45(data):
    out = ""
    for i in range(0, len(data), 2):
        part = data[i : i + 2]
        value = int.from_bytes(part, "big")
        for _ in range(len(part) + 1):
            out += ALPHABET[value % 45]
            value //= 45
    return out


def run(*arguments, given=None):
    return subprocess.run([str(stanch), "slip", *map(str, arguments)], input=given, capture_output=True, text=True)


def joined(texts):
    """JWS of the texts of symbols."""
    slices = {}
    for text in texts:
        mark, total, number, group, rest = text.split("/", 4)
        data = unbase45(rest)
        prefix = f"{mark}/{total}/{number}/{group}/".encode()
        check("checksum", zlib.crc32(prefix + data[:-4]) == int.from_bytes(data[-4:], "big"))
        slices[int(number)] = data[:-4]
    data = b"".join(slices[k] for k in sorted(slices))
    n = data[0]
    header, signature, payload = data[1 : 1 + n], data[1 + n : 65 + n], data[65 + n :]
    return ".".join(map(b64, (header, payload, signature)))


def moment(ms, with_ms):
    at = datetime.datetime.fromtimestamp(ms // 1000, datetime.timezone.utc).strftime("%Y-%m-%dT%H:%M:%S")
    return at + (f".{ms % 1000:03}" if with_ms or ms % 1000 else "") + "Z"


def ms_of(text):
    return round(datetime.datetime.fromisoformat(text.replace("Z", "+00:00")).timestamp() * 1000)


def entries_of(slip):
    """The entries of a payload, from docs/formats/slip.md."""
    n = len(slip["w"])

    def cell(column, i):
        if isinstance(column, str):
            return DIGITS.index(column[i])
        return column[i] if isinstance(column, list) else column

    ids, last, frames = [], 0, []
    chance = int.from_bytes(unb64(slip["i"]), "big") >> (-74 * n % 8)
    for i in range(n):
        w = slip["w"][i]
        written = ms_of(w) if isinstance(w, str) else last + w * slip["t"]
        a = cell(slip["a"], i) if isinstance(slip["a"], list) else slip["a"]
        at = a if isinstance(a, str) else moment(written - a * slip["t"], slip["z"])
        frames.append((w if isinstance(w, str) else moment(written, slip["z"]), at))
        bits = chance >> (74 * (n - 1 - i)) & (1 << 74) - 1
        time = written + (slip["d"][i] if isinstance(slip["d"], list) else slip["d"])
        ids.append(str(uuid.UUID(int=time << 80 | 7 << 76 | bits >> 62 << 64 | 2 << 62 | bits & (1 << 62) - 1)))
        last = written

    def long(value):
        if isinstance(value, list):
            return [long(v) for v in value]
        if isinstance(value, dict):
            return {long(k): long(v) for k, v in value.items()}
        if not isinstance(value, str) or not value:
            return value
        if value[0] == "=":
            return value[1:]
        if value[0] == "@":
            return ids[int(value[1:])]
        if value[0] == "#":
            return str(uuid.UUID(bytes=unb64(value[1:])))
        return WORDS[int(value)] if value[0].isdigit() else value

    used = [0] * len(slip["k"])
    out = []
    for i in range(n):
        s = cell(slip["s"], i)
        names = [WORDS[w] if isinstance(w, int) else long(w) for w in slip["k"][s]]
        entry = {
            "id": ids[i],
            "case": str(uuid.UUID(bytes=unb64(slip["c"]))),
            "written": frames[i][0],
            "at": frames[i][1],
            "by": slip["n"][cell(slip["b"], i)],
            "from": slip["n"][cell(slip["f"], i)],
            "kind": names[0],
        }
        for f, name in enumerate(names[1:]):
            entry[name] = long(slip["x"][s][f][used[s]])
        used[s] += 1
        out.append(entry)
    return out


def noisy_print(picture, to):
    """A printed symbol scanned: 45 mm at 300 dpi, grey noise of a tenth of the range."""
    import numpy

    data, at, packed = pathlib.Path(picture).read_bytes(), 8, b""
    while at < len(data):
        n = int.from_bytes(data[at : at + 4], "big")
        if data[at + 4 : at + 8] == b"IDAT":
            packed += data[at + 8 : at + 8 + n]
        at += 12 + n
    side = int.from_bytes(data[16:20], "big")
    rows = numpy.frombuffer(zlib.decompress(packed), numpy.uint8).reshape(side, -1)[:, 1:]
    grey = numpy.unpackbits(rows, axis=1)[:, :side] * 255.0
    pixels = round(45 / 25.4 * 300)
    near = numpy.arange(pixels) * side // pixels
    grey = numpy.pad(grey[numpy.ix_(near, near)], 20, constant_values=255)
    grey = numpy.clip(grey + numpy.random.default_rng(1).normal(0, 25.5, grey.shape), 0, 255).astype(numpy.uint8)
    pathlib.Path(to).write_bytes(b"P5 %d %d 255\n" % grey.shape + grey.tobytes())


def reads_a_noisy_print(folder):
    try:
        import numpy  # noqa: F401
    except ImportError:
        print("slip_peer: the noisy print is skipped, python3-numpy is not installed")
        return
    run("key", "--make", folder / "print.pem")
    whole = root / "demo/practice.ndjson"
    for name, more in (("full", ["--symbols", "1"]), ("paper", ["--paper"])):
        run("write", whole, folder / name, "--key", folder / "print.pem", "--sender", "Fennel Row", "--author", "S. Orin", *more)
        read = []
        for k, picture in enumerate(sorted(glob.glob(f"{folder}/{name}-*.png"))):
            noisy_print(picture, folder / f"{name}{k}.pgm")
            read.append(subprocess.run(["zbarimg", "--raw", "-q", folder / f"{name}{k}.pgm"], capture_output=True, text=True).stdout)
        check(f"noisy print, {name}", "".join(read) == open(f"{folder}/{name}.txt").read())


def lines(text):
    return sorted((json.loads(line) for line in text.splitlines() if line), key=lambda e: e["id"])


def reads_ours(folder, case, algorithm):
    key_file = folder / f"{algorithm}.pem"
    if not key_file.exists():
        run("key", "--make", "--alg", algorithm, key_file)
    public = json.loads(run("key", key_file).stdout)
    key = jwk.JWK(**{k: v for k, v in public.items() if k != "kid"})
    check("thumbprint", key.thumbprint() == public["kid"])
    name = folder / f"{case.stem}-{algorithm}"
    made = run("write", case, name, "--key", key_file, "--sender", "Fennel Row", "--author", "S. Orin")
    check(f"write {case.name}: {made.stderr}", made.returncode == 0)
    pictures = glob.glob(f"{name}-*.png")
    texts = subprocess.run(["zbarimg", "--raw", "-q", *pictures], capture_output=True, text=True).stdout.split("\n")
    texts = [text for text in texts if text]
    check("symbols as drawn", sorted(texts) == sorted(open(f"{name}.txt").read().split("\n")[:-1]))
    compact = joined(texts)
    check("jws", compact == open(f"{name}.jws").read().strip())
    signed = jws.JWS()
    signed.deserialize(compact)
    signed.verify(key, alg=algorithm)  # raises when it's wrong
    payload = zlib.decompress(unb64(compact.split(".")[1]), -15)
    held = lines(case.read_text())
    check(f"entries of {case.name}", sorted(entries_of(json.loads(payload)), key=lambda e: e["id"]) == held)


def written_by_us(folder, algorithm):
    """A slip made without a line of the product."""
    key = jwk.JWK.generate(kty="OKP", crv="Ed25519") if algorithm == "EdDSA" else jwk.JWK.generate(kty="EC", crv="P-256")
    start = ms_of("2031-05-06T08:00:00Z")
    chances = [random.getrandbits(74) for _ in range(3)]
    bits = chances[0] << 148 | chances[1] << 74 | chances[2]
    slip = {
        "v": 1, "c": b64(uuid.UUID("01c2b631-cc00-7a3d-9e51-4b0c77d2f08a").bytes), "m": start + 600000,
        "p": "Fennel Row", "y": "S. Orin", "r": "", "h": "", "e": 3, "z": 0, "t": 1000,
        "w": [start // 1000, 60, 120], "a": [0, 0, 30], "d": 0, "i": b64((bits << 2).to_bytes(28, "big")),
        "b": 0, "f": 1, "n": ["S. Orin", "phone-1"], "s": "ABB",
        "k": [["opened", "label"], ["vitals", "pulse", "sbp"]],
        "x": [[["=Bed 4"]], [[104, 118], [96, "unrecordable"]]],
    }  # fmt: skip
    deflated = zlib.compressobj(9, zlib.DEFLATED, -15)
    payload = deflated.compress(json.dumps(slip).encode()) + deflated.flush()
    signed = jws.JWS(payload)
    signed.add_signature(key, alg=algorithm, protected=json.dumps({"alg": algorithm, "kid": key.thumbprint(), "zip": "DEF"}))
    header, body, signature = map(unb64, signed.serialize(compact=True).split("."))
    data = bytes([len(header)]) + header + signature + body
    half = len(data) // 2
    texts = []
    for k, part in enumerate((data[:half], data[half:])):
        prefix = f"STANCH1/2/{k + 1}/PEER/"
        texts.append(prefix + base45(part + zlib.crc32(prefix.encode() + part).to_bytes(4, "big")))
    for k, text in enumerate(texts):
        subprocess.run(["qrencode", "-l", "M", "-o", folder / f"peer{k}.png", text], check=True)
    read = subprocess.run(["zbarimg", "--raw", "-q", folder / "peer1.png", folder / "peer0.png"], capture_output=True, text=True)
    keys = folder / "peer.keys"
    keys.write_text(json.dumps(key.export_public(as_dict=True)) + "\n")
    taken = run("read", "-", "--keys", keys, given=read.stdout)
    check(f"peer's slip: {taken.stderr}", taken.returncode == 0)
    check("peer's entries", lines(taken.stdout) == sorted(entries_of(slip), key=lambda e: e["id"]))
    check("the key isn't known", run("read", "-", given=read.stdout).returncode == 1)
    # The payload of one slip under the signature of another.
    slip["e"] = 4
    other = zlib.compressobj(9, zlib.DEFLATED, -15)
    forged = signed.serialize(compact=True).split(".")
    forged[1] = b64(other.compress(json.dumps(slip).encode()) + other.flush())
    refused = run("read", "-", "--keys", keys, "--take-unknown", given=".".join(forged) + "\n")
    check("forged", refused.returncode == 1 and refused.stdout == "" and "WRONG" in refused.stderr)
    # A public key as a shared secret.
    secret = jwk.JWK(kty="oct", k=b64(json.dumps(key.export_public(as_dict=True)).encode()))
    shared = jws.JWS(payload)
    shared.add_signature(secret, alg="HS256", protected=json.dumps({"alg": "HS256", "kid": key.thumbprint(), "zip": "DEF"}))
    refused = run("read", "-", "--keys", keys, "--take-unknown", given=shared.serialize(compact=True) + "\n")
    check("HS256", refused.returncode == 1 and refused.stdout == "")


def main():
    with tempfile.TemporaryDirectory() as temporary:
        folder = pathlib.Path(temporary)
        for case in sorted((root / "demo").glob("*.ndjson")):
            for algorithm in ("EdDSA", "ES256"):
                reads_ours(folder, case, algorithm)
        for algorithm in ("EdDSA", "ES256"):
            written_by_us(folder, algorithm)
        reads_a_noisy_print(folder)
    print(f"slip_peer: {passed} passed, {failed} failed")
    return 0 if failed == 0 else 1


if __name__ == "__main__":
    sys.exit(main())
