/* How the characters move. Whole numbers do all of it, so that every machine and
 * every language gets the same bits; only the last step makes floats, and makes them
 * exactly. The Go test and host.py have the same formula. */
#ifndef MOTION_H
#define MOTION_H

#include <stdint.h>

enum { CHARACTERS = 2000, LIMBS = 8, SEGMENTS = 4 };

/* Tangents of half angles in 1024ths: 1024 is 90 degrees, 424 is 45. */
typedef struct swings {
	int32_t flexion, flexion_most; /* about X: middle, and how far to either side of it */
	int32_t side, side_most;       /* about Z */
	int32_t twist_most;            /* about Y, the bone, to either side of none */
} swings;

typedef struct moves {
	swings joint;
	swings tip; /* read where the limb ramps its tip's twist */
} moves;

extern const moves limb_moves[LIMBS];

/* A full wave of two parabolas: 0, most, 0, -most, 0. Shifts see no negative
 * numbers, which languages shift differently. */
static inline int32_t wave(uint32_t phase, int32_t most) {
	int32_t x = (int32_t)(phase >> 20 & 2047);
	int32_t y = ((x * (2048 - x)) >> 10) * most >> 10;
	return phase >> 31 ? -y : y;
}

static inline uint32_t phase_of(uint32_t frame, uint32_t limb, uint32_t character) {
	uint32_t period = 64 + character % 64; /* frames: one to two seconds */
	return frame * (UINT32_MAX / period) + limb * 521288629u + character * 2654435769u;
}

/* Writes the swing (x, 0, z, 1024) times the twist (0, y, 0, 1024) over 2^20, a
 * quaternion with w = 1. Every part stays below 2^23, so a float holds it exactly. */
static inline void rotation_of(float q[4], const swings *s, uint32_t phase) {
	int32_t x = s->flexion + wave(phase, s->flexion_most);
	int32_t z = s->side + wave(2 * phase, s->side_most);
	int32_t y = wave(3 * phase, s->twist_most);
	const float unit = 1.0f / 1048576.0f;
	q[0] = (float)(1024 * x - z * y) * unit;
	q[1] = (float)(1024 * y) * unit;
	q[2] = (float)(1024 * z + x * y) * unit;
	q[3] = 1;
}

/* The tip runs a quarter of a wave behind its joint. */
static inline uint32_t tip_phase(uint32_t phase) { return phase - (UINT32_C(1) << 30); }

#endif
