/* Makes limbs by pronate_limb_spec and solves their poses in both precisions. Reads
 * what c_test.go writes, and writes a line a segment: four numbers of
 * double, a comma, and four of float. */
#include "pronate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_SEGMENTS = 32, MOST_POSES = 64 };

static FILE *in;

static void fail(const char *what, const char *why) {
	fprintf(stderr, "solve.c: %s: %s\n", what, why);
	exit(1);
}

static void must(const char *what, pronate_status status) {
	if (status != PRONATE_OK) {
		fail(what, pronate_message());
	}
}

static double number(void) {
	double x;
	if (fscanf(in, "%lf", &x) != 1) {
		fail("number", "expected one");
	}
	return x;
}

static unsigned count(unsigned most) {
	unsigned n;
	if (fscanf(in, "%u", &n) != 1 || n > most) {
		fail("count", "expected fewer");
	}
	return n;
}

/* So many numbers. */
static void numbers(double *to, unsigned n) {
	if (count(n) != n) {
		fail("numbers", "expected more of them");
	}
	for (unsigned i = 0; i < n; i++) {
		to[i] = number();
	}
}

/* A list of shares; null where there are none. */
static const double *shares(double *to, uint32_t *n) {
	*n = count(MOST_SEGMENTS);
	for (unsigned i = 0; i < *n; i++) {
		to[i] = number();
	}
	return *n > 0 ? to : NULL;
}

typedef struct choice {
	const char *word;
	int32_t value;
} choice;

static const choice twists[] = {{"own", PRONATE_TWIST_OWN}, {"tip", PRONATE_TWIST_TIP}, {NULL, 0}};
static const choice ramps[] = {{"linear", PRONATE_RAMP_LINEAR}, {"smooth", PRONATE_RAMP_SMOOTH}, {NULL, 0}};
static const choice fields[] = {{"any", PRONATE_FIELD_ANY},
                                {"shortest", PRONATE_FIELD_SHORTEST},
                                {"centred", PRONATE_FIELD_CENTRED},
                                {"least_roll", PRONATE_FIELD_LEAST_ROLL},
                                {"balanced", PRONATE_FIELD_BALANCED},
                                {NULL, 0}};
static const choice modes[] = {{"auto", PRONATE_CENTRE_AUTO}, {"none", PRONATE_CENTRE_NONE}, {"given", PRONATE_CENTRE_GIVEN}, {NULL, 0}};
static const choice ranges[] = {{"none", PRONATE_RANGE_NONE},   {"hip", PRONATE_RANGE_HIP},       {"shoulder", PRONATE_RANGE_SHOULDER},
                                {"wrist", PRONATE_RANGE_WRIST}, {"limits", PRONATE_RANGE_LIMITS}, {NULL, 0}};

static int32_t choose(const choice *among) {
	char word[32];
	if (fscanf(in, "%31s", word) != 1) {
		fail("word", "expected one");
	}
	for (; among->word != NULL; among++) {
		if (strcmp(word, among->word) == 0) {
			return among->value;
		}
	}
	fail(word, "is no word that pronate.h has a number for");
	return 0;
}

static void solve(const pronate_limb_spec *spec) {
	static double joints[4 * MOST_POSES], tips[4 * MOST_POSES], doubles[4 * MOST_SEGMENTS * MOST_POSES];
	static float joints32[4 * MOST_POSES], tips32[4 * MOST_POSES], singles[4 * MOST_SEGMENTS * MOST_POSES];
	pronate_limb limb;
	must("limb", pronate_limb_new(spec, &limb));
	unsigned poses = count(MOST_POSES), segments = count(MOST_SEGMENTS);
	if (pronate_limb_segments(limb) != (int32_t)segments) {
		fail("limb", "has another number of segments");
	}
	for (unsigned i = 0; i < poses; i++) {
		for (unsigned k = 0; k < 4; k++) {
			joints32[4 * i + k] = (float)(joints[4 * i + k] = number());
		}
		for (unsigned k = 0; k < 4; k++) {
			tips32[4 * i + k] = (float)(tips[4 * i + k] = number());
		}
	}
	must("double", pronate_solve_f64(limb, doubles, joints, tips, poses));
	must("float", pronate_solve_f32(limb, singles, joints32, tips32, poses));
	for (unsigned i = 0; i < poses; i++) { /* one at a time is the same */
		double one[4 * MOST_SEGMENTS];
		must("one", pronate_solve(limb, joints + 4 * i, tips + 4 * i, one, NULL));
		if (memcmp(one, doubles + 4 * segments * i, 4 * segments * sizeof *one) != 0) {
			fail("one", "has other bits than many");
		}
	}
	for (unsigned i = 0; i < 4 * segments * poses; i += 4) {
		for (unsigned k = 0; k < 4; k++) { /* as many digits as bring back the bits */
			printf("%.17g%s", doubles[i + k], k < 3 ? " " : ", ");
		}
		for (unsigned k = 0; k < 4; k++) {
			printf("%.9g%s", singles[i + k], k < 3 ? " " : "\n");
		}
	}
	must("free", pronate_limb_free(limb));
}

int main(int argc, char **argv) {
	static double own[MOST_SEGMENTS], tip[MOST_SEGMENTS];
	pronate_limb_spec spec;
	char key[32];
	if (argc != 2 || (in = fopen(argv[1], "r")) == NULL) {
		fail("usage", "solve QUESTIONS");
	}
	while (fscanf(in, "%31s", key) == 1) {
#define IS(word) (strcmp(key, (word)) == 0)
		if (IS("limb")) {
			pronate_limb_spec_init(&spec);
		} else if (IS("segments")) {
			spec.segments = (int32_t)count(MOST_SEGMENTS);
		} else if (IS("twist")) {
			spec.twist = choose(twists);
		} else if (IS("ramp")) {
			spec.ramp = choose(ramps);
		} else if (IS("field")) {
			spec.field = choose(fields);
		} else if (IS("centre_mode")) {
			spec.centre_mode = choose(modes);
		} else if (IS("range")) {
			spec.range = choose(ranges);
		} else if (IS("axis")) {
			numbers(spec.axis, 3);
		} else if (IS("shares")) {
			spec.shares = shares(own, &spec.share_count);
		} else if (IS("tip_shares")) {
			spec.tip_shares = shares(tip, &spec.tip_share_count);
		} else if (IS("centre")) {
			numbers(spec.centre, 3);
		} else if (IS("flexion_deg")) {
			numbers(spec.flexion_deg, 2);
		} else if (IS("abduction_deg")) {
			numbers(spec.abduction_deg, 2);
		} else if (IS("down")) {
			numbers(spec.down, 3);
		} else if (IS("forward")) {
			numbers(spec.forward, 3);
		} else if (IS("out")) {
			numbers(spec.out, 3);
		} else if (IS("anchor_rest")) {
			numbers(spec.anchor_rest, 4);
		} else if (IS("joint_rest")) {
			numbers(spec.joint_rest, 4);
		} else if (IS("tip_rest")) {
			numbers(spec.tip_rest, 4);
		} else if (IS("poses")) {
			solve(&spec);
		} else {
			fail(key, "is no key of a limb");
		}
	}
	fclose(in);
	return 0;
}
