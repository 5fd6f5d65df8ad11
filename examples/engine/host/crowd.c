/* Arrays for a crowd, filling them, and the calls that solve it. */
#include "host.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int complain(const char *what, pronate_status status) {
	fprintf(stderr, "host: %s: status %d: %s\n", what, (int)status, pronate_message());
	return 1;
}

static float *floats(size_t n) {
	float *p = (float *)calloc(n, sizeof *p);
	if (p == NULL) {
		fprintf(stderr, "host: no memory for %zu numbers\n", n);
		exit(2);
	}
	return p;
}

int crowd_init(crowd *c) {
	memset(c, 0, sizeof *c);
	for (uint32_t l = 0; l < LIMBS; l++) {
		pronate_limb_spec spec;
		limb_spec(&spec, l);
		pronate_status status = pronate_limb_new(&spec, &c->limbs[l]);
		if (status != PRONATE_OK) {
			return complain(limb_names[l], status);
		}
		c->joints[l] = floats(4 * CHARACTERS);
		c->tips[l] = limb_has_tip(l) ? floats(4 * CHARACTERS) : NULL;
		c->segments[l] = floats(4 * SEGMENTS * CHARACTERS);
	}
	return 0;
}

void crowd_free(crowd *c) {
	for (uint32_t l = 0; l < LIMBS; l++) {
		pronate_limb_free(c->limbs[l]);
		free(c->joints[l]);
		free(c->tips[l]);
		free(c->segments[l]);
	}
	memset(c, 0, sizeof *c);
}

void crowd_fill(crowd *c, uint32_t frame, uint32_t half) {
	for (uint32_t l = 0; l < LIMBS; l++) {
		for (uint32_t i = half * HALF; i < (half + 1) * HALF; i++) {
			uint32_t phase = phase_of(frame, l, i);
			rotation_of(c->joints[l] + 4 * i, &limb_moves[l].joint, phase);
			if (c->tips[l] != NULL) {
				rotation_of(c->tips[l] + 4 * i, &limb_moves[l].tip, tip_phase(phase));
			}
		}
	}
}

/* One call a limb: that is all of Pronate in a frame. */
int crowd_solve(crowd *c, uint32_t half) {
	size_t first = 4 * (size_t)half * HALF;
	for (uint32_t l = 0; l < LIMBS; l++) {
		const float *tips = c->tips[l] == NULL ? NULL : c->tips[l] + first;
		pronate_status status =
		    pronate_solve_f32(c->limbs[l], c->segments[l] + SEGMENTS * first, c->joints[l] + first, tips, HALF);
		if (status != PRONATE_OK) {
			return complain(limb_names[l], status);
		}
	}
	return 0;
}
