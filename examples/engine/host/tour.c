/* The rest of the library beside the frame loop: errors, one hero, a limb file, and
 * segments written straight into an engine's transforms. */
#include "host.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Returns 0 where a call ended as it was to, and shows what the library says to it. */
static int expect(const char *what, pronate_status got, pronate_status want) {
	printf("  %s: %s\n", what, pronate_message());
	if (got == want && (got == PRONATE_OK || pronate_message()[0] != 0)) {
		return 0;
	}
	fprintf(stderr, "host: %s: status %d, expected %d with a message\n", what, (int)got, (int)want);
	return 1;
}

/* Mistakes are told and the show goes on. */
static int errors(const crowd *c) {
	pronate_limb_spec spec;
	pronate_limb limb = 1;
	float some[4 * SEGMENTS] = {0};
	const double half_turn[4] = {1, 0, 0, 0};
	double segments[4 * SEGMENTS];
	int wrong = 0;
	puts("mistakes, and what the library says to them:");
	limb_spec(&spec, 0);
	spec.segments = 99;
	wrong |= expect("99 segments", pronate_limb_new(&spec, &limb), PRONATE_BAD_SPEC);
	wrong |= limb != 0;
	limb_spec(&spec, 0);
	spec.out[0] = spec.out[2] = 1;
	wrong |= expect("a slanting out", pronate_limb_new(&spec, &limb), PRONATE_BAD_SPEC);
	wrong |= expect("no joints", pronate_solve_f32(c->limbs[0], some, NULL, NULL, 1), PRONATE_BAD_ARGUMENT);
	wrong |= expect("a forearm without its hand", pronate_solve_f32(c->limbs[4], some, c->joints[4], NULL, 1),
	                PRONATE_BAD_ARGUMENT);
	wrong |= expect("no limb", pronate_solve_f32(0, some, c->joints[0], NULL, 1), PRONATE_BAD_LIMB);
	limb_spec(&spec, 6);
	spec.twist = PRONATE_TWIST_OWN;
	if (pronate_limb_new(&spec, &limb) != PRONATE_OK) {
		return complain("a shin with its own twist", PRONATE_BAD_SPEC);
	}
	/* Half a turn about X has no twist about Y of its own; there is an answer even so. */
	wrong |= expect("half a turn of swing", pronate_solve(limb, half_turn, NULL, segments, NULL), PRONATE_UNDEFINED);
	wrong |= pronate_limb_free(limb) != PRONATE_OK;
	wrong |= expect("a limb freed before", pronate_limb_free(limb), PRONATE_BAD_LIMB);
	return wrong;
}

/* One character at a time, in double, with what the solver learned. */
static int hero(const crowd *c) {
	const double rest[4] = {0, 0, 0, 1}, high_step[4] = {0.7, 0.2, 0.1, 0.6};
	double segments[4 * SEGMENTS], batch[4 * SEGMENTS];
	pronate_result result;
	int wrong = 0;
	pronate_status status = pronate_solve(c->limbs[0], high_step, NULL, segments, &result);
	if (status != PRONATE_OK) {
		return complain("hero", status);
	}
	printf("a hero's left thigh in a high step: twist %.4f, condition %.4f; segments turn about the bone by\n",
	       result.twist, result.condition);
	for (int i = 0; i < SEGMENTS; i++) {
		printf("  (%.5f %.5f %.5f %.5f)\n", segments[4 * i], segments[4 * i + 1], segments[4 * i + 2], segments[4 * i + 3]);
	}
	status = pronate_solve_f64(c->limbs[0], batch, high_step, NULL, 1);
	wrong |= status != PRONATE_OK || memcmp(batch, segments, sizeof batch) != 0;
	status = pronate_solve(c->limbs[0], rest, NULL, segments, NULL);
	for (int i = 0; i < 4 * SEGMENTS; i++) {
		wrong |= segments[i] != (i % 4 == 3); /* at rest nothing moves, exactly */
	}
	if (wrong || status != PRONATE_OK) {
		fprintf(stderr, "host: the hero's batch differs from her single solve, or her rest is not the identity\n");
	}
	return wrong;
}

/* The limb file that a character was split by says the same as a specification. */
static int limb_file(const crowd *c) {
	const char text[] = "version: 1\n"
	                    "limbs:\n"
	                    "  - joint: thigh_l\n"
	                    "    end: shin_l\n"
	                    "    segments: 4\n"
	                    "    range: hip\n";
	const char misspelt[] = "version: 1\nlimbs:\n  - joint: thigh_l\n    end: shin_l\n    segmnts: 4\n";
	const size_t numbers = (size_t)4 * SEGMENTS * CHARACTERS;
	pronate_limb_spec rest;
	pronate_limb limb;
	limb_spec(&rest, 0);
	int wrong = expect("a misspelt limb file", pronate_limb_from_text(misspelt, sizeof misspelt - 1, "thigh_l", &rest, &limb),
	                   PRONATE_BAD_SPEC);
	pronate_status status = pronate_limb_from_text(text, sizeof text - 1, "thigh_l", &rest, &limb);
	float *segments = (float *)calloc(numbers, sizeof *segments);
	if (status != PRONATE_OK || segments == NULL) {
		free(segments);
		return complain("the limb file", status);
	}
	status = pronate_solve_f32(limb, segments, c->joints[0], NULL, CHARACTERS);
	int same = status == PRONATE_OK && memcmp(segments, c->segments[0], numbers * sizeof *segments) == 0;
	printf("a thigh by limb file, %d segments: %s\n", (int)pronate_limb_segments(limb),
	       same ? "same bits as by specification" : "NOT the bits of the specification");
	free(segments);
	return wrong | !same | (pronate_limb_free(limb) != PRONATE_OK);
}

/* What an engine may keep for a bone. */
typedef struct transform {
	float place[3];
	float rotation[4];
	float scale;
} transform;

enum { BONES = 1 + SEGMENTS, STEP = sizeof(transform) / sizeof(float) }; /* a joint and its segments */

static pronate_rotations_f32 rotations_in(transform *bone) {
	pronate_rotations_f32 r;
	r.x = &bone->rotation[0], r.y = &bone->rotation[1], r.z = &bone->rotation[2], r.w = &bone->rotation[3];
	r.stride = (size_t)BONES * STEP; /* from character to character */
	r.segment = STEP;
	return r;
}

/* Segments are children of their joint, so what is solved is their local rotation:
 * it goes where the engine reads it, without a copy. */
static int layouts(const crowd *c) {
	transform *bones = (transform *)calloc((size_t)BONES * CHARACTERS, sizeof *bones);
	if (bones == NULL) {
		fprintf(stderr, "host: no memory for transforms\n");
		return 1;
	}
	for (int i = 0; i < BONES * CHARACTERS; i++) {
		bones[i].scale = 1;
		if (i % BONES == 0) {
			memcpy(bones[i].rotation, c->joints[0] + 4 * (i / BONES), sizeof bones[i].rotation);
		}
	}
	pronate_rotations_f32 joints = rotations_in(bones), segments = rotations_in(bones + 1);
	pronate_outcome outcome;
	pronate_status status = pronate_solve_layout_f32(c->limbs[0], &segments, &joints, NULL, CHARACTERS, 2, &outcome);
	if (status != PRONATE_OK) {
		free(bones);
		return complain("layouts", status);
	}
	int same = outcome.undefined == 0 && outcome.not_finite == 0;
	for (int i = 0; i < BONES * CHARACTERS; i++) {
		const float *want = i % BONES == 0 ? c->joints[0] + 4 * (i / BONES)
		                                   : c->segments[0] + 4 * (SEGMENTS * (i / BONES) + i % BONES - 1);
		same &= bones[i].scale == 1 && bones[i].place[0] == 0 && bones[i].place[2] == 0;
		same &= memcmp(bones[i].rotation, want, sizeof bones[i].rotation) == 0;
	}
	printf("segments straight into transforms: %s\n", same ? "same bits, and nothing else touched" : "NOT the same");
	free(bones);
	return !same;
}

int tour_run(crowd *c) { return errors(c) | hero(c) | limb_file(c) | layouts(c); }
