/* What stands between pronate.h and Go. Functions of pronate.h are C, which costs
 * nothing: they empty the thread's message and call the Go function of the same
 * name with go_ in it. Go comes back by pronate_say, and only where there is
 * something to say. */
#ifndef PRONATE_DOOR_H
#define PRONATE_DOOR_H

/* The library is built with all else hidden. */
#pragma GCC visibility push(default)
#include "pronate.h"
#pragma GCC visibility pop

/* Sets the calling thread's message, which the caller has cut to size. */
void pronate_say(const char *text, size_t length);

/* Bytes of a message, without its zero. */
enum { PRONATE_LONGEST_MESSAGE = 1023 };

/* Empties it. */
void pronate_say_nothing(void);

#endif
