//go:build cgo

#include "door.h"

#include <string.h>

static _Thread_local char message[PRONATE_LONGEST_MESSAGE + 1];

const char *pronate_message(void) { return message; }

void pronate_say_nothing(void) { message[0] = 0; }

void pronate_say(const char *text, size_t length) {
	if (length > PRONATE_LONGEST_MESSAGE) length = PRONATE_LONGEST_MESSAGE;
	memcpy(message, text, length);
	message[length] = 0;
}
