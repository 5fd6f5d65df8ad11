/* The rest of the library beside the frame loop: errors, one hero, bones in the world,
 * what a limb has become, a limb file, and segments written straight into an engine's
 * transforms. */
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

static void product(double out[4], const double p[4], const double q[4]) {
	out[0] = p[3] * q[0] + p[0] * q[3] + p[1] * q[2] - p[2] * q[1];
	out[1] = p[3] * q[1] - p[0] * q[2] + p[1] * q[3] + p[2] * q[0];
	out[2] = p[3] * q[2] + p[0] * q[1] - p[1] * q[0] + p[2] * q[3];
	out[3] = p[3] * q[3] - p[0] * q[0] - p[1] * q[1] - p[2] * q[2];
}

/* An engine whose skeleton knows where bones are in the world: they become input, and
 * what is solved for a segment becomes one of them again. */
static int world(const crowd *c) {
	const double high_step[4] = {0.7, 0.1, 0.1, 0.7}; /* of length 1 */
	const double pelvis[4] = {0, 0.6, 0, 0.8};        /* she has turned to her left */
	pronate_limb_spec spec;
	limb_spec(&spec, 0);
	double at_rest[4], thigh[4], joint[4], segments[4 * SEGMENTS], end[4];
	product(at_rest, pelvis, spec.joint_rest); /* the pelvis rests along the world's axes */
	product(thigh, at_rest, high_step);
	pronate_status status = pronate_from_rest(c->limbs[0], pelvis, thigh, NULL, joint, NULL);
	if (status != PRONATE_OK) {
		return complain("the input of bones in the world", status);
	}
	status = pronate_solve(c->limbs[0], joint, NULL, segments, NULL);
	if (status != PRONATE_OK) {
		return complain("bones in the world", status);
	}
	product(end, thigh, segments + (size_t)4 * (SEGMENTS - 1)); /* joint * segment */
	double input = 0, output = 0;
	for (int i = 0; i < 4; i++) {
		input += joint[i] * high_step[i];
		output += end[i] * thigh[i];
	}
	/* Cosines of half an angle: 1 to rounding, and -q is q. */
	int same = input * input > 1 - 1e-14 && output * output > 1 - 1e-14;
	printf("bones in the world: %s\n", same ? "the step comes back, and the end turns with its joint" : "NOT the step");
	return !same;
}

/* What a limb has become, for a log, or for a save to compare with a build. */
static int description(const crowd *c) {
	pronate_limb_info info;
	info.size = sizeof info;
	pronate_status status = pronate_limb_describe(c->limbs[0], &info);
	if (status != PRONATE_OK) {
		return complain("description", status);
	}
	printf("a thigh's field %d, %d segments, fingerprint %016llx\n", (int)info.field, (int)info.segments,
	       (unsigned long long)info.fingerprint);
	return info.field != PRONATE_FIELD_BALANCED || info.segments != SEGMENTS || !info.has_range || info.has_tip;
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

static pronate_const_rotations_f32 joints_in(const transform *bone) {
	pronate_const_rotations_f32 r;
	r.x = &bone->rotation[0], r.y = &bone->rotation[1], r.z = &bone->rotation[2], r.w = &bone->rotation[3];
	r.stride = (size_t)BONES * STEP;
	r.segment = 0; /* a joint has none */
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
	pronate_rotations_f32 segments = rotations_in(bones + 1);
	pronate_const_rotations_f32 joints = joints_in(bones);
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

int tour_run(crowd *c) { return errors(c) | hero(c) | world(c) | description(c) | limb_file(c) | layouts(c); }
