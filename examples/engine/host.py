"""Pronate's C library from another language, with nothing but its header to go by.

    python3 host.py /path/to/libpronate.so [expected.txt]

Solves the crowd of host/motion.h for the frames of the committed table, in batches
of half the crowd, and compares every bit. Python's own library is all it needs.
"""

import ctypes
import sys
from array import array

CHARACTERS, HALF, SEGMENTS = 2000, 1000, 4
OK, UNDEFINED, BAD_ARGUMENT, BAD_LIMB, BAD_SPEC = 0, 1, -1, -2, -3
TWIST_TIP, FIELD_BALANCED, RANGE_HIP, RANGE_SHOULDER = 1, 4, 1, 2

double3, double4 = ctypes.c_double * 3, ctypes.c_double * 4
doubles, floats = ctypes.POINTER(ctypes.c_double), ctypes.POINTER(ctypes.c_float)


class Spec(ctypes.Structure):
    """pronate_limb_spec"""

    _fields_ = [
        ("size", ctypes.c_uint32), ("segments", ctypes.c_int32), ("twist", ctypes.c_int32), ("ramp", ctypes.c_int32),
        ("axis", double3),
        ("shares", doubles), ("tip_shares", doubles), ("share_count", ctypes.c_uint32), ("tip_share_count", ctypes.c_uint32),
        ("field", ctypes.c_int32), ("centre_mode", ctypes.c_int32), ("centre", double3),
        ("range", ctypes.c_int32), ("reserved", ctypes.c_int32),
        ("flexion_deg", ctypes.c_double * 2), ("abduction_deg", ctypes.c_double * 2),
        ("down", double3), ("forward", double3), ("out", double3),
        ("anchor_rest", double4), ("joint_rest", double4), ("tip_rest", double4),
    ]


class Result(ctypes.Structure):
    """pronate_result"""

    _fields_ = [(name, ctypes.c_double) for name in ("twist", "tip_twist", "condition", "tip_condition")]


def load(path):
    """The functions that this host uses, with their types."""
    library = ctypes.CDLL(path)
    status, limb, size = ctypes.c_int32, ctypes.c_uint64, ctypes.c_size_t
    for name, result, arguments in [
        ("pronate_message", ctypes.c_char_p, []),
        ("pronate_version", ctypes.c_uint32, []),
        ("pronate_limb_spec_init", None, [ctypes.POINTER(Spec)]),
        ("pronate_limb_new", status, [ctypes.POINTER(Spec), ctypes.POINTER(limb)]),
        ("pronate_limb_from_text", status, [ctypes.c_char_p, size, ctypes.c_char_p, ctypes.POINTER(Spec), ctypes.POINTER(limb)]),
        ("pronate_limb_free", status, [limb]),
        ("pronate_limb_segments", status, [limb]),
        ("pronate_solve", status, [limb, doubles, doubles, doubles, ctypes.POINTER(Result)]),
        ("pronate_solve_f32", status, [limb, floats, floats, floats, size]),
    ]:
        function = getattr(library, name)
        function.restype, function.argtypes = result, arguments
    return library


# The crowd of host/motion.h and host/limbs.c. Each limb: sin and cos of half the turn
# about Z that lays +Y along its bone, and how joint and tip move.
ARM = (0.9238795325112867, 0.3826834323650898)
FOREARM = ((700, 650, 0, 0, 0), (0, 400, 0, 150, 800))
SHIN = ((-600, 550, 0, 0, 0), (100, 250, 0, 80, 250))
LIMBS = [
    ("thigh_l", (1, 0), ((400, 700, 120, 250, 400), None)),
    ("thigh_r", (1, 0), ((400, 700, -120, 250, 400), None)),
    ("upper_arm_l", (-ARM[0], ARM[1]), ((350, 700, 150, 500, 600), None)),
    ("upper_arm_r", ARM, ((350, 700, -150, 500, 600), None)),
    ("forearm_l", (-ARM[0], ARM[1]), FOREARM),
    ("forearm_r", ARM, FOREARM),
    ("shin_l", (1, 0), SHIN),
    ("shin_r", (1, 0), SHIN),
]
MASK = 0xFFFFFFFF


def wave(phase, most):
    x = phase >> 20 & 2047
    y = (x * (2048 - x) >> 10) * most >> 10
    return -y if phase >> 31 & 1 else y


def rotation(swings, phase):
    flexion, flexion_most, side, side_most, twist_most = swings
    x = flexion + wave(phase & MASK, flexion_most)
    z = side + wave(2 * phase & MASK, side_most)
    y = wave(3 * phase & MASK, twist_most)
    return ((1024 * x - z * y) / 1048576, 1024 * y / 1048576, (1024 * z + x * y) / 1048576, 1.0)


def fill(frame, limb):
    """Joints and tips of a limb of all characters; tips may be None."""
    joint_moves, tip_moves = LIMBS[limb][2]
    joints, tips = array("f"), array("f")
    for character in range(CHARACTERS):
        phase = (frame * (MASK // (64 + character % 64)) + limb * 521288629 + character * 2654435769) & MASK
        joints.extend(rotation(joint_moves, phase))
        if tip_moves:
            tips.extend(rotation(tip_moves, phase - (1 << 30)))
    return joints, tips if tip_moves else None


def spec_of(library, limb):
    spec = Spec()
    library.pronate_limb_spec_init(spec)
    assert spec.size == ctypes.sizeof(Spec), "the header's struct has another size"
    name, (sin, cos), (_, tip_moves) = LIMBS[limb]
    spec.segments, spec.axis = SEGMENTS, double3(0, 1, 0)
    spec.joint_rest = spec.tip_rest = double4(0, 0, sin, cos)
    if tip_moves:
        spec.twist, spec.anchor_rest = TWIST_TIP, spec.joint_rest
        return spec
    spec.field, spec.range = FIELD_BALANCED, RANGE_HIP if name.startswith("thigh") else RANGE_SHOULDER
    spec.down, spec.forward, spec.out = double3(0, -1, 0), double3(0, 0, 1), double3(1 if name.endswith("_l") else -1, 0, 0)
    return spec


def check(library, status, want=OK):
    if status != want:
        sys.exit(f"host.py: status {status}, expected {want}: {library.pronate_message().decode()}")


def new_limb(library, limb):
    handle = ctypes.c_uint64()
    check(library, library.pronate_limb_new(spec_of(library, limb), handle))
    return handle


def solve(library, handle, joints, tips):
    """The crowd's segments as 32-bit words."""
    dst = array("f", bytes(4 * 4 * SEGMENTS * CHARACTERS))

    def at(numbers, first):
        if numbers is None:
            return None
        return (ctypes.c_float * (len(numbers) - first)).from_buffer(numbers, 4 * first)

    for half in range(0, CHARACTERS, HALF):
        check(library, library.pronate_solve_f32(
            handle, at(dst, 4 * SEGMENTS * half), at(joints, 4 * half), at(tips, 4 * half), HALF))
    return array("I", dst.tobytes())


def read_table(path):
    """Rows by limb and frame: (character or "all", words)."""
    rows = {}
    with open(path, encoding="ascii") as file:
        for line in file:
            if not line.startswith("#"):
                frame, limb, character, *words = line.split()
                rows.setdefault((int(limb), int(frame)), []).append((character, [int(w, 16) for w in words]))
    return rows


def hash_of(words):
    h = 14695981039346656037
    for word in words:
        h = (h ^ word) * 1099511628211 & 0xFFFFFFFFFFFFFFFF
    return h


def compare_with_table(library, path):
    wrong = compared = 0
    handles = [new_limb(library, limb) for limb in range(len(LIMBS))]
    for (limb, frame), rows in sorted(read_table(path).items()):
        words = solve(library, handles[limb], *fill(frame, limb))
        for character, want in rows:
            compared += 1
            if character == "all":
                got = [hash_of(words)]
            else:
                first = 4 * SEGMENTS * int(character)
                got = words[first:first + 4 * SEGMENTS].tolist()
            if got != want:
                wrong += 1
                print(f"host.py: frame {frame}, {LIMBS[limb][0]}, character {character} is not the table's", file=sys.stderr)
    for handle in handles:
        check(library, library.pronate_limb_free(handle))
    print(f"{compared} rows of the table compared, {wrong} wrong")
    return wrong != 0 or compared == 0


def show_one(library):
    """One pose, one limb file, and mistakes."""
    text = b"version: 1\nlimbs:\n  - {joint: forearm_l, end: hand_l, twist: tip, tip: hand_l, segments: 3}\n"
    handle, segments, result = ctypes.c_uint64(), (ctypes.c_double * 12)(), Result()
    rest = spec_of(library, 4)
    check(library, library.pronate_limb_from_text(text, len(text), b"forearm_l", rest, handle))
    check(library, library.pronate_limb_segments(handle), 3)
    wrung = double4(0, 0.6, 0, 0.8)
    check(library, library.pronate_solve(handle, double4(0, 0, 0, 1), wrung, segments, result))
    print(f"a hand turned by {result.tip_twist:.4f} turns the forearm's segments by quaternions of",
          ", ".join(f"y {segments[4 * i + 1]:.4f}" for i in range(3)))
    check(library, library.pronate_solve(handle, double4(0, 0, 0, 1), None, segments, None), BAD_ARGUMENT)
    print("without the hand:", library.pronate_message().decode())
    rest.segments = 99
    check(library, library.pronate_limb_new(rest, ctypes.c_uint64()), BAD_SPEC)
    print("99 segments:", library.pronate_message().decode())
    check(library, library.pronate_limb_free(handle))
    check(library, library.pronate_solve(handle, double4(0, 0, 0, 1), wrung, segments, None), BAD_LIMB)
    print("a limb freed before:", library.pronate_message().decode())


def main():
    if len(sys.argv) not in (2, 3):
        sys.exit("usage: host.py LIBPRONATE.SO [EXPECTED.TXT]")
    library = load(sys.argv[1])
    version = library.pronate_version()
    print(f"Pronate {version >> 16}.{version >> 8 & 255}.{version & 255} in Python {sys.version.split()[0]}")
    wrong = compare_with_table(library, sys.argv[2] if len(sys.argv) == 3 else "expected.txt")
    show_one(library)
    print("something was wrong" if wrong else "all as it should be")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
