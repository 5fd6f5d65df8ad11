package main

// #cgo CFLAGS: -std=c11 -fvisibility=hidden
// #include "door.h"
import "C"

import (
	"unsafe"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
)

// say leaves a message for the calling thread. A call from C stays on its thread.
func say(text string) {
	line := engine.Line(text, C.PRONATE_LONGEST_MESSAGE)
	C.pronate_say((*C.char)(unsafe.Pointer(unsafe.StringData(line))), C.size_t(len(line)))
}

// fail says what went wrong, or what there is to remark.
func fail(err error) C.pronate_status {
	say(err.Error())
	return C.pronate_status(engine.StatusOfError(err))
}

// done is the end of a batch.
func done(o chain.Outcome, n C.size_t, remark func(chain.Outcome, uint64) string) C.pronate_status {
	status := engine.StatusOf(o)
	if status != engine.OK {
		say(remark(o, uint64(n)))
	}
	return C.pronate_status(status)
}

// guard turns a panic into a status: none may reach C. It is deferred.
func guard(status *C.pronate_status) {
	if p := recover(); p != nil {
		*status = fail(engine.FaultOf(p))
	}
}
