"""The tasks as one would write them with numpy, and with scipy's Rotation:
all limbs at once. Called with a folder, the seconds of a round and a regular
expression of the rows wanted; reports as bench/peers.go expects."""

import json
import re
import sys
import time

import numpy as np
import scipy
from scipy.spatial.transform import Rotation

folder, round_seconds, only = sys.argv[1], float(sys.argv[2]), re.compile(sys.argv[3])
segments = 4
rounds = 3


def load(name, precision, width):
    return np.fromfile(f"{folder}/{name}.{precision}", dtype=precision).reshape(-1, width)


def row(task, name, precision, solve):
    """Times solve, which returns the answers to all limbs."""
    if not only.search(f"{task} {name} {precision}"):
        return
    least, passes, done = float("inf"), 1, 0
    while done < rounds:
        begin = time.perf_counter()
        for _ in range(passes):
            out = solve()
        took = time.perf_counter() - begin
        if took < round_seconds:
            passes = passes * 10 if took < round_seconds / 10 else int(passes * 1.2 * round_seconds / took) + 1
            continue
        least, done = min(least, took / passes), done + 1
    limbs = out.size // 4 // (segments if task == "limb" else 1)
    answers = f"{task} {name}.{precision}"
    out.astype(precision).tofile(f"{folder}/{answers}")
    line = {"task": task, "name": name, "precision": precision, "ns_per_limb": least * 1e9 / limbs, "answers": answers}
    print(json.dumps(line))


def angles(poses, axis):
    """The twists, in [-pi, pi]."""
    p = poses[:, :3] @ axis
    w = poses[:, 3]
    return 2 * np.arctan2(np.copysign(1, w) * p, np.abs(w))


def cross(a, b):
    """Faster than np.cross for many rows."""
    return np.stack(
        [
            a[:, 1] * b[:, 2] - a[:, 2] * b[:, 1],
            a[:, 2] * b[:, 0] - a[:, 0] * b[:, 2],
            a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0],
        ],
        axis=1,
    )


def numpy_rows(precision):
    poses, targets = load("poses", precision, 4), load("targets", precision, 3)
    axis = load("axis", precision, 3)[0]
    shares = np.linspace(-1, 0, segments, dtype=precision)
    out = np.empty((len(poses), segments, 4), dtype=precision)

    def limb():
        half = (angles(poses, axis) / 2)[:, None] * shares
        out[:, :, :3] = np.sin(half)[:, :, None] * axis
        out[:, :, 3] = np.cos(half)
        return out

    def aim():
        v, w = poses[:, :3], poses[:, 3:]
        turned = 2 * cross(v, np.broadcast_to(axis, v.shape))
        start = axis + w * turned + cross(v, turned)
        end = targets / np.sqrt(np.einsum("ij,ij->i", targets, targets))[:, None]
        half = start + end
        half /= np.sqrt(np.einsum("ij,ij->i", half, half))[:, None]
        r, c = cross(start, half), np.einsum("ij,ij->i", start, half)[:, None]
        out = np.empty_like(poses)
        out[:, :3] = c * v + w * r + cross(r, v)
        out[:, 3:] = c * w - np.einsum("ij,ij->i", r, v)[:, None]
        return out

    row("limb", "numpy, careful", precision, limb)
    row("aim", "numpy, careful", precision, aim)


def scipy_rows():
    precision = "float64"
    poses, targets = load("poses", precision, 4), load("targets", precision, 3)
    axis = load("axis", precision, 3)[0]
    shares = np.linspace(-1, 0, segments)

    def by_parts():
        parts = np.empty_like(poses)
        parts[:, :3] = (poses[:, :3] @ axis)[:, None] * axis
        parts[:, 3] = poses[:, 3]
        vectors = Rotation.from_quat(parts).as_rotvec()[:, None] * shares[:, None]
        return Rotation.from_rotvec(vectors.reshape(-1, 3)).as_quat()

    def limb():
        vectors = (angles(poses, axis)[:, None] * shares)[:, :, None] * axis
        return Rotation.from_rotvec(vectors.reshape(-1, 3)).as_quat()

    def aim():
        joints = Rotation.from_quat(poses)
        start = joints.apply(axis)
        end = targets / np.linalg.norm(targets, axis=1)[:, None]
        half = start + end
        half /= np.linalg.norm(half, axis=1)[:, None]
        arcs = np.column_stack([cross(start, half), np.einsum("ij,ij->i", start, half)])
        return (Rotation.from_quat(arcs) * joints).as_quat()

    row("limb", "scipy, by as_rotvec", precision, by_parts)
    row("limb", "scipy, careful", precision, limb)
    row("aim", "scipy, careful", precision, aim)


print(json.dumps({"version": f"numpy {np.__version__}, scipy {scipy.__version__}, Python {sys.version.split()[0]}"}))
numpy_rows("float64")
numpy_rows("float32")
scipy_rows()
