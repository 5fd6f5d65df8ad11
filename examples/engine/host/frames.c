/* The frame loop: fill, solve, compare; on one thread, or on two with half of the
 * crowd each. It reports times and judges results only. */
#define _POSIX_C_SOURCE 200809L
#include "host.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

typedef struct loop {
	crowd *all;
	uint32_t frames;
	pthread_barrier_t gate; /* both threads pass it before filling, before solving and after */
	/* The second thread's, read behind the gate: */
	double from, to; /* ms, of its calls in the frame */
	int failed;
} loop;

static double now_ms(void) {
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static void *second_thread(void *argument) {
	loop *l = (loop *)argument;
	for (uint32_t frame = 0; frame < l->frames; frame++) {
		pthread_barrier_wait(&l->gate);
		crowd_fill(l->all, frame, 1);
		pthread_barrier_wait(&l->gate);
		l->from = now_ms();
		l->failed |= crowd_solve(l->all, 1);
		l->to = now_ms();
		pthread_barrier_wait(&l->gate);
	}
	return NULL;
}

static int by_size(const void *a, const void *b) {
	double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static void report(const char *what, double *ms, uint32_t n) {
	qsort(ms, n, sizeof *ms, by_size);
	printf("  %-5s  median %.3f ms  99th percentile %.3f ms  worst %.3f ms\n", what, ms[n / 2],
	       ms[(uint64_t)n * 99 / 100], ms[n - 1]);
}

static double larger(double a, double b) { return a > b ? a : b; }
static double smaller(double a, double b) { return a < b ? a : b; }

typedef struct times {
	double *fill, *solve;
	double *calls; /* the solve without waiting for one another: the slower thread's calls */
} times;

/* Runs the frames with the second thread where there is one; returns how many
 * results were wrong. */
static int run(loop *l, const table *t, uint32_t threads, times *ms, int *compared) {
	int wrong = 0;
	for (uint32_t frame = 0; frame < l->frames; frame++) {
		if (threads == 2) {
			pthread_barrier_wait(&l->gate);
		}
		double start = now_ms();
		crowd_fill(l->all, frame, 0);
		if (threads == 2) {
			pthread_barrier_wait(&l->gate);
		} else {
			crowd_fill(l->all, frame, 1);
		}
		double filled = now_ms();
		wrong += crowd_solve(l->all, 0);
		double calls = now_ms() - filled;
		if (threads == 2) {
			pthread_barrier_wait(&l->gate);
			calls = larger(calls, l->to - l->from);
			filled = smaller(filled, l->from); /* whoever wakes first behind the gate */
		} else {
			wrong += crowd_solve(l->all, 1);
		}
		double solved = now_ms();
		ms->fill[frame] = filled - start;
		ms->solve[frame] = solved - filled;
		ms->calls[frame] = calls;
		wrong += table_compare(t, l->all, frame, compared);
	}
	return wrong;
}

int frames_run(crowd *c, const table *t, uint32_t frames, uint32_t threads) {
	double *numbers = (double *)calloc(frames, 3 * sizeof *numbers);
	times ms = {numbers, numbers + frames, numbers + 2 * (size_t)frames};
	loop l;
	l.all = c;
	l.frames = frames;
	l.failed = 0;
	pthread_t second;
	int compared = 0;
	if (numbers == NULL || pthread_barrier_init(&l.gate, NULL, 2) != 0 ||
	    (threads == 2 && pthread_create(&second, NULL, second_thread, &l) != 0)) {
		fprintf(stderr, "host: no memory or no thread for the frame loop\n");
		exit(2);
	}
	int wrong = run(&l, t, threads, &ms, &compared);
	if (threads == 2) {
		pthread_join(second, NULL);
	}
	pthread_barrier_destroy(&l.gate);
	wrong += l.failed;
	printf("%u frames of %d limbs, %u thread%s: %d rows of the table compared, %d wrong\n", (unsigned)frames,
	       CHARACTERS * LIMBS, (unsigned)threads, threads == 1 ? "" : "s", compared, wrong);
	report("fill", ms.fill, frames);
	report("solve", ms.solve, frames);
	if (threads == 2) {
		report("calls", ms.calls, frames);
	}
	free(numbers);
	if (compared == 0) {
		fprintf(stderr, "host: no row of the table was for these frames\n");
	}
	return wrong != 0 || compared == 0;
}
