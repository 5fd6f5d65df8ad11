/* What the parts of the host share. */
#ifndef HOST_H
#define HOST_H

#include "motion.h"
#include "pronate.h"

/* A crowd: for each limb one array of all characters, as a batch wants it. */
enum { HALVES = 2, HALF = CHARACTERS / HALVES };

typedef struct crowd {
	pronate_limb limbs[LIMBS];
	float *joints[LIMBS];   /* 4 numbers a character */
	float *tips[LIMBS];     /* likewise; null where the limb has no tip shares */
	float *segments[LIMBS]; /* 4 SEGMENTS numbers a character */
} crowd;

extern const char *const limb_names[LIMBS];

void limb_spec(pronate_limb_spec *spec, uint32_t limb);
int limb_has_tip(uint32_t limb);

int crowd_init(crowd *c);
void crowd_free(crowd *c);
void crowd_fill(crowd *c, uint32_t frame, uint32_t half);
int crowd_solve(crowd *c, uint32_t half);

/* The committed results. */
typedef struct table table;
table *table_read(const char *path);
void table_free(table *t);
/* Compares a solved frame with the table's rows for it, bit by bit; returns how many
 * differ and adds to *compared how many there were. */
int table_compare(const table *t, const crowd *c, uint32_t frame, int *compared);

/* The parts of the show. Each returns 0, or 1 where something was not as it should be. */
int frames_run(crowd *c, const table *t, uint32_t frames, uint32_t threads);
int tour_run(crowd *c);
int soak_run(uint64_t calls);

/* Prints what failed with the library's message and returns 1. */
int complain(const char *what, pronate_status status);

#endif
