/* Prints what calls cost, in nanoseconds, the least of many rounds: BenchmarkC
 * reads it. Each line is a name and a number. */
#define _POSIX_C_SOURCE 200809L
#include "pronate.h"

#include <stdio.h>
#include <time.h>

enum { POSES = 64, SEGMENTS = 4, CALLS = 200, ROUNDS = 2000 };

static double joints[4 * POSES], targets[3 * POSES], out[4 * POSES * SEGMENTS];
static float joints32[4 * POSES], targets32[3 * POSES], out32[4 * POSES * SEGMENTS];
static const double axis[3] = {0, 1, 0};
static pronate_limb limb;

static double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return 1e9 * (double)t.tv_sec + (double)t.tv_nsec;
}

static int segments(void) { return pronate_limb_segments(limb) < 0; }
static int one(void) { return pronate_solve(limb, joints, NULL, out, NULL); }
static int single(void) { return pronate_solve_f32(limb, out32, joints32, NULL, POSES); }
static int twofold(void) { return pronate_solve_f64(limb, out, joints, NULL, POSES); }
static int aim32(void) { return pronate_aim_f32(axis, out32, joints32, targets32, POSES); }
static int aim64(void) { return pronate_aim_f64(axis, out, joints, targets, POSES); }

static int cost(const char *name, int (*call)(void)) {
	double least = 1e300;
	for (int round = 0; round < ROUNDS; round++) {
		double start = now();
		for (int i = 0; i < CALLS; i++) {
			if (call()) return fprintf(stderr, "%s: %s\n", name, pronate_message());
		}
		double took = (now() - start) / CALLS;
		if (took < least) least = took;
	}
	printf("%s %.1f\n", name, least);
	return 0;
}

int main(void) {
	/* Any rotations will do; these are spread. */
	for (int i = 0; i < 4 * POSES; i++) joints32[i] = (float)(joints[i] = (i * 37 % 64 - 31.5) / 32);
	for (int i = 0; i < 3 * POSES; i++) targets32[i] = (float)(targets[i] = (i * 29 % 64 - 31.5) / 32);
	pronate_limb_spec spec;
	pronate_limb_spec_init(&spec);
	spec.segments = SEGMENTS;
	if (pronate_limb_new(&spec, &limb)) return fprintf(stderr, "%s\n", pronate_message()), 1;
	return cost("segments", segments) || cost("solve", one) || cost("solve_f32", single) || cost("solve_f64", twofold) ||
	       cost("aim_f32", aim32) || cost("aim_f64", aim64);
}
