/* An engine's use of Pronate's C library: see ../README.md.
 *
 *   host [--frames N | --quick] [--table PATH]    the frame loop and the tour
 *   host --soak N                                 N calls of every kind, with an eye on memory */
#include "host.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct options {
	uint32_t frames;
	uint64_t soak;
	const char *table;
} options;

static int number(const char *text, unsigned long long most, unsigned long long *out) {
	char *end = NULL;
	if (text == NULL || text[0] < '0' || text[0] > '9') {
		return 0;
	}
	*out = strtoull(text, &end, 10);
	return *end == 0 && *out >= 1 && *out <= most;
}

static int parse(options *o, char **argument) {
	o->frames = 3600; /* a minute at 60 frames a second */
	o->soak = 0;
	o->table = "expected.txt";
	for (; *argument != NULL; argument++) {
		unsigned long long n = 0;
		if (strcmp(*argument, "--quick") == 0) {
			o->frames = 60;
		} else if (strcmp(*argument, "--frames") == 0 && number(argument[1], 1000000, &n)) {
			o->frames = (uint32_t)n;
			argument++;
		} else if (strcmp(*argument, "--soak") == 0 && number(argument[1], 1000000000000, &n)) {
			o->soak = n;
			argument++;
		} else if (strcmp(*argument, "--table") == 0 && argument[1] != NULL) {
			o->table = *++argument;
		} else {
			return 0;
		}
	}
	return 1;
}

static int show(const options *o) {
	crowd c;
	table *t = table_read(o->table);
	if (t == NULL) {
		return 1;
	}
	int wrong = crowd_init(&c);
	if (wrong == 0) {
		wrong |= frames_run(&c, t, o->frames, 1);
		wrong |= frames_run(&c, t, o->frames, 2);
		wrong |= tour_run(&c);
	}
	crowd_free(&c);
	table_free(t);
	return wrong;
}

int main(int count, char **arguments) {
	options o;
	(void)count;
	if (!parse(&o, arguments + 1)) {
		fprintf(stderr, "usage: host [--frames N | --quick] [--table PATH] | --soak N\n");
		return 2;
	}
	uint32_t version = pronate_version();
	printf("Pronate %u.%u.%u%s\n", (unsigned)(version >> 16), (unsigned)(version >> 8 & 255), (unsigned)(version & 255),
	       pronate_features() & PRONATE_AVX2 ? ", with AVX2" : "");
	if (version >> 16 != PRONATE_VERSION_MAJOR || (version >> 8 & 255) < PRONATE_VERSION_MINOR) {
		fprintf(stderr, "host: the library does not fit the header %d.%d\n", PRONATE_VERSION_MAJOR, PRONATE_VERSION_MINOR);
		return 1;
	}
	int wrong = o.soak != 0 ? soak_run(o.soak) : show(&o);
	puts(wrong ? "something was wrong" : "all as it should be");
	return wrong;
}
