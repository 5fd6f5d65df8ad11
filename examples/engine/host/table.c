/* Reads expected.txt and compares frames with it. The file says what its lines are. */
#include "host.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS = 4 * SEGMENTS, MOST_ROWS = 1024 };

typedef struct row {
	uint32_t frame, limb, character; /* CHARACTERS: a hash of all of them */
	uint32_t words[WORDS];
	uint64_t hash;
} row;

struct table {
	int count;
	row rows[MOST_ROWS];
};

/* One line of the file; 0 where it is not as it should be. */
static int parse(row *r, const char *line) {
	int read = 0;
	if (sscanf(line, "%" SCNu32 " %" SCNu32 " all %" SCNx64, &r->frame, &r->limb, &r->hash) == 3) {
		r->character = CHARACTERS;
		return r->limb < LIMBS;
	}
	if (sscanf(line, "%" SCNu32 " %" SCNu32 " %" SCNu32 "%n", &r->frame, &r->limb, &r->character, &read) != 3) {
		return 0;
	}
	for (int i = 0; i < WORDS; i++) {
		int more = 0;
		if (sscanf(line += read, "%" SCNx32 "%n", &r->words[i], &more) != 1) {
			return 0;
		}
		read = more;
	}
	return r->limb < LIMBS && r->character < CHARACTERS;
}

table *table_read(const char *path) {
	FILE *file = fopen(path, "r");
	table *t = (table *)calloc(1, sizeof *t);
	char line[512];
	int number = 0;
	if (file == NULL || t == NULL) {
		fprintf(stderr, "host: %s: cannot be read, expected the table of results (--table PATH)\n", path);
		goto failed;
	}
	while (fgets(line, sizeof line, file) != NULL) {
		number++;
		if (line[0] == '#') {
			continue;
		}
		if (t->count == MOST_ROWS || !parse(&t->rows[t->count++], line)) {
			fprintf(stderr, "host: %s:%d: expected frame, limb, character and %d words\n", path, number, WORDS);
			goto failed;
		}
	}
	fclose(file);
	return t;
failed:
	if (file != NULL) {
		fclose(file);
	}
	free(t);
	return NULL;
}

void table_free(table *t) { free(t); }

/* FNV-1a, a word at a time. */
static uint64_t hash_of(const float *numbers, size_t n) {
	uint64_t h = UINT64_C(14695981039346656037);
	for (size_t i = 0; i < n; i++) {
		uint32_t word;
		memcpy(&word, &numbers[i], sizeof word);
		h = (h ^ word) * UINT64_C(1099511628211);
	}
	return h;
}

static int differs(const row *r, const crowd *c) {
	if (r->character == CHARACTERS) {
		return hash_of(c->segments[r->limb], (size_t)WORDS * CHARACTERS) != r->hash;
	}
	return memcmp(c->segments[r->limb] + (size_t)WORDS * r->character, r->words, sizeof r->words) != 0;
}

int table_compare(const table *t, const crowd *c, uint32_t frame, int *compared) {
	int different = 0;
	for (int i = 0; i < t->count; i++) {
		const row *r = &t->rows[i];
		if (r->frame != frame) {
			continue;
		}
		++*compared;
		if (differs(r, c)) {
			different++;
			fprintf(stderr, "host: frame %" PRIu32 ", %s: ", frame, limb_names[r->limb]);
			if (r->character == CHARACTERS) {
				fprintf(stderr, "the hash of all characters is not the table's\n");
			} else {
				fprintf(stderr, "character %" PRIu32 " is not the table's\n", r->character);
			}
		}
	}
	return different;
}
