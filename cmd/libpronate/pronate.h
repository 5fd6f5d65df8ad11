/* libpronate: shares the twist of a limb's joint out along its segments.
 *
 * A limb is described once, by a struct or by the text of a limb file, and then
 * solved as often as there are poses: the joint's rotation from rest goes in, the
 * rotations of the segments in the joint's frame come out. The same input gives the
 * same bits on every processor and through every door of Pronate, float and double
 * each by itself.
 *
 * Conventions. Right-handed; rotations are unit quaternions x, y, z, w as in
 * glTF 2.0, and q and -q are the same; a segment's has w >= 0. Angles are radians
 * unless a name ends in _deg. Any length of quaternion but zero will do.
 *
 * Using the answer. A segment is a child of the joint that at rest is not turned
 * against it; segment i of n stands i/n of the bone's length from the joint along
 * axis. What a solve gives is its local rotation, so that in the world it has joint *
 * segment. It turns about axis by (k_i - 1) tau + m_i sigma, where tau is the joint's
 * own twist, sigma the tip's, and k_i and m_i are the segment's shares of them. The
 * joint that it hangs on has all of tau already, which is why a root (k = 0) is turned
 * back by the whole of it, and an end (k = 1) gets the identity.
 *
 * Making the input. Where the joint's parent is the anchor, and the tip's the joint,
 * with their local rotations at rest and now
 *
 *     joint = conj(rest) * now
 *     tip = now * conj(rest)
 *
 * in this order, for the joint's is in its own rest frame and the tip's in the joint's
 * frame. Where others stand between them, with rotations in the world of anchor, joint
 * and tip, A0, J0 and T0 at rest and A, J and T now,
 *
 *     joint = conj(A * conj(A0) * J0) * J
 *     tip = conj(J) * T * conj(T0) * J0
 *
 * which pronate_from_rest works out.
 *
 * Memory. Arrays are the caller's; the library keeps no pointer when a call has
 * returned. What it gives away is a limb, which pronate_limb_free takes back.
 *
 * Threads. Every function may be called from any thread at any time. A limb does
 * not change: any number of threads may solve with one. Only freeing a limb while
 * another thread is about to use it gives that thread PRONATE_BAD_LIMB.
 * pronate_message belongs to the calling thread.
 *
 * Loading. The library holds a Go runtime, with threads of its own, that starts on
 * loading and cannot be unloaded: do not dlclose it, and do not fork without exec
 * once it is loaded. It handles its signals by SA_ONSTACK and passes on those it
 * does not know. Two such libraries in a process do not mix; link the static one
 * into one place only.
 *
 * Errors. Functions return a pronate_status. Where it is negative nothing was
 * written, but for *limb, which becomes 0, and pronate_message says in one line
 * what was expected. Where it is positive everything was written and
 * pronate_message says what is special about it.
 */
#ifndef PRONATE_H
#define PRONATE_H

#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The version that this header belongs to; pronate_version() is the library's. A
 * program works with every library of the same major version that is not older. */
#define PRONATE_VERSION_MAJOR 0
#define PRONATE_VERSION_MINOR 1
#define PRONATE_VERSION_PATCH 0

typedef int32_t pronate_status;
enum {
	PRONATE_OK = 0,
	PRONATE_UNDEFINED = 1,      /* a twist was undefined and taken as none: the bone pointed straight away from the
	                               centre of its field, the tip was half a turn off the axis, or a quaternion was zero */
	PRONATE_NOT_FINITE = 2,     /* NaN or Inf came in; the segments of those poses are NaN */
	PRONATE_RANGE_LEFT_OUT = 3, /* the limb was made without the range of its limb file, which does not fit it at rest */
	PRONATE_BAD_ARGUMENT = -1,  /* a null pointer, a count or a step that cannot be */
	PRONATE_BAD_LIMB = -2,      /* not a limb, or freed already */
	PRONATE_BAD_SPEC = -3,      /* a specification or a limb file that makes no limb */
	PRONATE_FAULT = -4          /* a fault in the library itself; please report it */
};

/* The last message of the calling thread: one line, UTF-8, no newline. Valid until
 * the thread's next call of a function that returns a status; empty after
 * PRONATE_OK. Never null. */
const char *pronate_message(void);

/* major << 16 | minor << 8 | patch of the library. */
uint32_t pronate_version(void);

enum {
	PRONATE_AVX2 = 1 /* batches run on AVX2: same bits, several times the speed */
};

/* What this library can do on this processor, as a sum of the above. */
uint32_t pronate_features(void);

/* A limb. 0 is none. A number, not a pointer: a stale one is found out. */
typedef uint64_t pronate_limb;

enum { PRONATE_TWIST_OWN = 0, PRONATE_TWIST_TIP = 1 };
enum { PRONATE_RAMP_LINEAR = 0, PRONATE_RAMP_SMOOTH = 1 };
enum { PRONATE_FIELD_ANY = 0, PRONATE_FIELD_SHORTEST = 1, PRONATE_FIELD_CENTRED = 2, PRONATE_FIELD_LEAST_ROLL = 3, PRONATE_FIELD_BALANCED = 4 };
enum { PRONATE_CENTRE_AUTO = 0, PRONATE_CENTRE_NONE = 1, PRONATE_CENTRE_GIVEN = 2 };
enum { PRONATE_RANGE_NONE = 0, PRONATE_RANGE_HIP = 1, PRONATE_RANGE_SHOULDER = 2, PRONATE_RANGE_WRIST = 3, PRONATE_RANGE_LIMITS = 4 };

/* How a limb is split. Start from pronate_limb_spec_init, which makes a bone along
 * +Y of two segments that ramp the joint's own twist linearly, and set what is
 * different. All frames are those of the rest pose. */
typedef struct pronate_limb_spec {
	uint32_t size;    /* of this struct, set by pronate_limb_spec_init */
	int32_t segments; /* 2 to 32; 0: as many as there are shares, or 2 */
	int32_t twist;    /* PRONATE_TWIST_OWN: ramp the joint's own twist, none at the root, all at the end;
	                     PRONATE_TWIST_TIP: keep it and ramp that of the joint at the tip */
	int32_t ramp;     /* PRONATE_RAMP_..., where no shares are given */
	double axis[3];   /* long axis in the joint's frame, of any length but zero */

	const double *shares;     /* of the joint's own twist, 0 to 1 each, or null */
	const double *tip_shares; /* of the tip's, or null */
	uint32_t share_count, tip_share_count;

	int32_t field;       /* PRONATE_FIELD_...; ANY is BALANCED where the range is known, CENTRED for a given
	                        centre, and SHORTEST where there is neither. It is SHORTEST, too, for a bone that
	                        rests more than 150 degrees from its range's middle, and where the range has no
	                        balanced field */
	int32_t centre_mode; /* PRONATE_CENTRE_...; AUTO is the range's middle. A twist is undefined where the bone
	                        points straight away from the centre: with NONE that is half a turn from rest */
	double centre[3];    /* for GIVEN: a direction in the anchor's frame */

	int32_t range;           /* PRONATE_RANGE_...: of the joint. For animation; no clinical advice */
	int32_t reserved;        /* 0 */
	double flexion_deg[2];   /* for PRONATE_RANGE_LIMITS: least and most */
	double abduction_deg[2]; /* likewise; outward is positive */
	double down[3];          /* for all ranges, at length 1 and at right angles to the other two:
	                            where the limb points hanging, in the anchor's frame */
	double forward[3];       /* where flexion takes it */
	double out[3];           /* where abduction takes it */

	double anchor_rest[4]; /* world rotation of what holds the root end */
	double joint_rest[4];  /* of the joint whose bone is split */
	double tip_rest[4];    /* of the joint at the tip */
} pronate_limb_spec;

void pronate_limb_spec_init(pronate_limb_spec *spec);

/* Makes a limb. The least-roll or balanced field of a range is solved the first time that a process
 * asks for the range: 20 ms (hip, wrist) to 90 ms (shoulder), and as much again for
 * each set of limits of one's own. So make limbs while loading. */
pronate_status pronate_limb_new(const pronate_limb_spec *spec, pronate_limb *limb);

/* Makes a limb from the text of a limb file (YAML, or the JSON subset), the one
 * that the character was split by. length leaves out a closing zero. name is the
 * limb's name, or its joint's. The file names joints; rest says what they are at rest:
 * of it axis and the three rest rotations are read, and directions of a range in a
 * character that stands along +Y and faces +Z are taken from the world.
 *
 * Left and right, and what kind of limb it is where no range is given, are told by
 * names alone (splitting a character looks at places too): a file for this function
 * gives such joints a range, and limits where names say no side. A hip's or shoulder's
 * range that the bone rests more than 45 degrees out of is left out: the limb is made
 * without, PRONATE_RANGE_LEFT_OUT comes back, and the message says why and which field
 * the limb has.
 *
 * Keys that are not the solver's (weights, stretch, crease) are checked and left
 * alone. weights are in the character's skin already. A limb with stretch or crease
 * turns as it would without: whoever wants its segments to lengthen, or to give way in
 * a fold, scales and moves them as well (in Go chain.Stretcher and chain.Creaser do). */
pronate_status pronate_limb_from_text(const char *text, size_t length, const char *name,
                                      const pronate_limb_spec *rest, pronate_limb *limb);

/* Frees a limb. 0 is fine and does nothing. */
pronate_status pronate_limb_free(pronate_limb limb);

/* How many segments a limb has, or a negative status. */
int32_t pronate_limb_segments(pronate_limb limb);

/* What a limb has become. Set size to that of the struct. */
typedef struct pronate_limb_info {
	uint32_t size;
	int32_t segments;
	int32_t field;         /* the one in use: PRONATE_FIELD_SHORTEST, CENTRED, LEAST_ROLL or BALANCED */
	int32_t has_range;     /* 1: the joint's range is known; 0: there is none, or it was left out */
	int32_t has_tip;       /* 1: solves read the tip's rotations */
	int32_t reserved;      /* 0 */
	double axis[3];        /* of length 1, in the joint's frame */
	double centre[3];      /* likewise; that of the shortest arc is the axis */
	double shares[32];     /* k_i, of the joint's own twist; 0 beyond the last segment */
	double tip_shares[32]; /* m_i, of the tip's */
	uint64_t fingerprint;  /* see below */
} pronate_limb_info;

/* Says what a limb has become.
 *
 * fingerprint is a hash of every number that its solves and pronate_from_rest depend
 * on (axis, shares, the field's table, how joints rest to one another) and of some of
 * its answers in both precisions. Limbs made from the same input have the same one on
 * every processor, and limbs with the same one have the same answers to the bit. So
 * two machines, or a saved game and a build, compare it without solving. It changes
 * with a limb's numbers, and with a version of the library that answers otherwise. A
 * limb made in another way, as by text instead of a struct, may differ by rounding
 * and has another one then. */
pronate_status pronate_limb_describe(pronate_limb limb, pronate_limb_info *info);

/* Makes a solve's input from rotations in the world now: those of the anchor, the
 * joint and the tip (null where the limb has no tip shares). How they were at rest
 * the limb knows. out_joint takes 4 numbers, and out_tip, which may be null, the
 * identity where the limb has no tip shares. A zero quaternion is taken for the
 * identity, which gives PRONATE_UNDEFINED. */
pronate_status pronate_from_rest(pronate_limb limb, const double anchor[4], const double joint[4], const double tip[4],
                                 double out_joint[4], double out_tip[4]);

/* What a single solve learns about the pose. */
typedef struct pronate_result {
	double twist;         /* the joint's own, radians in (-pi, pi] */
	double tip_twist;     /* the tip's about the limb's axis; 0 without tip shares */
	double condition;     /* cosine of half the swing away from the centre, 0 to 1: errors of twist grow
	                         with its inverse */
	double tip_condition; /* likewise, of the tip's away from the axis; 1 without tip shares */
} pronate_result;

/* Solves one pose in double. joint is its rotation from rest, in its own rest frame
 * and relative to the anchor; tip likewise in the joint's frame, null where the limb
 * has no tip shares. segments takes 4 numbers for each segment. result may be null. */
pronate_status pronate_solve(pronate_limb limb, const double joint[4], const double tip[4],
                             double *segments, pronate_result *result);

/* Solves n poses of a limb, quaternions x, y, z, w side by side: joints has 4 n
 * numbers, tips 4 n (null where the limb has no tip shares), dst 4 n for each
 * segment, a pose's segments side by side. dst must not overlap the others. Where n
 * is 0 all may be null. */
pronate_status pronate_solve_f32(pronate_limb limb, float *dst, const float *joints, const float *tips, size_t n);
pronate_status pronate_solve_f64(pronate_limb limb, double *dst, const double *joints, const double *tips, size_t n);

/* Where rotations lie, in any layout: component x of segment i of pose j is
 * x[j*stride + i*segment], and so on. Steps count numbers, not bytes. A step of 0
 * repeats one rotation of joints or tips. */
typedef struct pronate_rotations_f32 {
	float *x, *y, *z, *w;
	size_t stride;  /* from pose to pose; 1 in a structure of arrays */
	size_t segment; /* from segment to segment; not read for joints and tips */
} pronate_rotations_f32;

typedef struct pronate_rotations_f64 {
	double *x, *y, *z, *w;
	size_t stride, segment;
} pronate_rotations_f64;

/* The same, where rotations are only read. */
typedef struct pronate_const_rotations_f32 {
	const float *x, *y, *z, *w;
	size_t stride, segment;
} pronate_const_rotations_f32;

typedef struct pronate_const_rotations_f64 {
	const double *x, *y, *z, *w;
	size_t stride, segment;
} pronate_const_rotations_f64;

/* How many poses of a batch have no answer of their own. */
typedef struct pronate_outcome {
	uint64_t undefined;  /* see PRONATE_UNDEFINED */
	uint64_t not_finite; /* see PRONATE_NOT_FINITE */
} pronate_outcome;

/* Solves n poses of a limb in any layout, on up to so many threads (0 and 1: on the
 * caller's alone; the bits do not depend on it). dst must not overlap the others, nor
 * itself: no two of its rotations may share a number, and steps by which they would
 * within one of its arrays are refused. tips may be null where the limb has no tip shares, and outcome always. */
pronate_status pronate_solve_layout_f32(pronate_limb limb, const pronate_rotations_f32 *dst,
                                        const pronate_const_rotations_f32 *joints, const pronate_const_rotations_f32 *tips,
                                        size_t n, uint32_t threads, pronate_outcome *outcome);
pronate_status pronate_solve_layout_f64(pronate_limb limb, const pronate_rotations_f64 *dst,
                                        const pronate_const_rotations_f64 *joints, const pronate_const_rotations_f64 *tips,
                                        size_t n, uint32_t threads, pronate_outcome *outcome);

/* Turns n frames (x, y, z, w side by side) by the smallest rotation that makes their
 * axis point along a target each (x, y, z side by side, directions of any length but
 * zero, in the world). dst may be frames, and must not overlap targets. */
pronate_status pronate_aim_f32(const double axis[3], float *dst, const float *frames, const float *targets, size_t n);
pronate_status pronate_aim_f64(const double axis[3], double *dst, const double *frames, const double *targets, size_t n);

#ifdef __cplusplus
}
#endif

#endif
