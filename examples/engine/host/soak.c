/* Calls of every kind, many times over, with an eye on the memory they leave behind.
 *
 * Of a thousand calls 700 solve one pose, 280 solve small batches, 19 are mistakes
 * (each leaves a message) and one makes and frees a limb. A thousand times in all a
 * thread comes, makes a mistake and goes, so that what belongs to threads shows too.
 *
 * Memory is what is resident after a tenth of the calls and after the last one. It
 * may differ by LEEWAY: the runtime in the library lets its heap, of some 4 MB,
 * come and go between collections. A leak of a byte a call would be 9 MB more after
 * ten million calls, one of a limb a thousand calls at least as much, and the runs
 * that CI makes are of that size. */
#define _POSIX_C_SOURCE 200809L
#include "host.h"

#include <inttypes.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <unistd.h>

static const long LEEWAY = 4096; /* kB */

static long resident_kb(void) {
	long all = 0, resident = -1;
	FILE *f = fopen("/proc/self/statm", "r");
	if (f == NULL) {
		return -1;
	}
	if (fscanf(f, "%ld %ld", &all, &resident) != 2) {
		resident = -1;
	}
	fclose(f);
	return resident < 0 ? -1 : resident * (sysconf(_SC_PAGESIZE) / 1024);
}

/* A mistake of one of five kinds; returns 0 where the library found it. */
static int mistake(pronate_limb good, uint64_t n) {
	static const char text[] = "version: 1\nlimbs:\n  - {joint: a, end: b, segments: 1}\n";
	double segments[4 * SEGMENTS];
	double joint[4] = {0, 0, 0, NAN};
	pronate_limb_spec spec;
	pronate_limb limb = 0;
	limb_spec(&spec, 0);
	switch (n % 5) {
	case 0:
		return pronate_solve(good, NULL, NULL, segments, NULL) != PRONATE_BAD_ARGUMENT;
	case 1:
		return pronate_solve(good ^ (n << 7 | 64), joint, NULL, segments, NULL) != PRONATE_BAD_LIMB;
	case 2:
		return pronate_solve(good, joint, NULL, segments, NULL) != PRONATE_NOT_FINITE;
	case 3:
		spec.axis[1] = 0;
		return pronate_limb_new(&spec, &limb) != PRONATE_BAD_SPEC;
	default:
		return pronate_limb_from_text(text, sizeof text - 1, "a", &spec, &limb) != PRONATE_BAD_SPEC;
	}
}

static void *passer_by(void *argument) {
	pronate_limb *limb = (pronate_limb *)argument;
	float segments[4 * SEGMENTS];
	int wrong = pronate_solve_f32(*limb, segments, NULL, NULL, 1) != PRONATE_BAD_ARGUMENT || pronate_message()[0] == 0;
	return wrong ? argument : NULL;
}

static int with_a_thread(pronate_limb limb) {
	pthread_t thread;
	void *wrong = NULL;
	if (pthread_create(&thread, NULL, passer_by, &limb) != 0 || pthread_join(thread, &wrong) != 0) {
		return 1;
	}
	return wrong != NULL;
}

static int one_call(crowd *c, uint64_t n) {
	uint32_t turn = (uint32_t)(n % 1000), character = (uint32_t)(n % 1984), limb = (uint32_t)(n / 1000 % LIMBS);
	if (turn == 999) {
		pronate_limb_spec spec;
		pronate_limb made;
		limb_spec(&spec, limb);
		return pronate_limb_new(&spec, &made) != PRONATE_OK || pronate_limb_free(made) != PRONATE_OK;
	}
	if (turn % 50 == 49) {
		return mistake(c->limbs[0], n / 50);
	}
	const float *joints = c->joints[limb] + 4 * character;
	const float *tips = c->tips[limb] == NULL ? NULL : c->tips[limb] + 4 * character;
	if (turn % 10 < 7) {
		double joint[4], tip[4], segments[4 * SEGMENTS];
		pronate_result result;
		for (int i = 0; i < 4; i++) {
			joint[i] = joints[i];
			tip[i] = tips == NULL ? 0 : tips[i];
		}
		return pronate_solve(c->limbs[limb], joint, tips == NULL ? NULL : tip, segments, &result) != PRONATE_OK;
	}
	return pronate_solve_f32(c->limbs[limb], c->segments[limb], joints, tips, 1 + n % 16) != PRONATE_OK;
}

int soak_run(uint64_t calls) {
	crowd c;
	int wrong = crowd_init(&c);
	long before = -1, after = -1;
	uint64_t failed = 0, tenth = calls < 10 ? 1 : calls / 10, per_thread = calls < 1000 ? 1 : calls / 1000;
	crowd_fill(&c, 0, 0);
	crowd_fill(&c, 0, 1);
	for (uint64_t n = 0; n < calls && !wrong; n++) {
		failed += (uint64_t)one_call(&c, n);
		if (n % per_thread == 0) {
			failed += (uint64_t)with_a_thread(c.limbs[0]);
		}
		if ((n + 1) % tenth == 0) {
			after = resident_kb();
			before = before < 0 ? after : before;
			printf("  %12" PRIu64 " calls: %ld kB resident\n", n + 1, after);
		}
	}
	crowd_free(&c);
	printf("soak: %" PRIu64 " calls, %" PRIu64 " not as expected; %ld kB before, %ld kB after, %ld allowed\n", calls, failed,
	       before, after, before + LEEWAY);
	if (before < 0) {
		fprintf(stderr, "host: /proc/self/statm cannot be read\n");
	}
	return wrong || failed != 0 || before < 0 || after > before + LEEWAY;
}
