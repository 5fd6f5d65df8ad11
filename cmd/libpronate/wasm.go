//go:build wasip1

// The door to WebAssembly: a module that is started once, by _initialize, and then
// called. Its functions are those of pronate.h as they would be on a machine of 32
// bits, but for these:
//
//   - arrays, texts and structs lie in memory that pronate_alloc gave out, and any
//     other address is refused, for the module's memory holds all of Go's too;
//   - a specification is its JSON form, the message has its length beside it, the
//     outcome of an aim can be asked for, and there are no threads.
//
// js/pronate.js makes objects of them.
package main

import (
	"unsafe"

	"github.com/pronate/pronate/internal/engine"
)

// message is what the last call had to say. It stays where it is until the next.
var message []byte

const mostMessage = 512

//go:wasmexport pronate_message
func pronateMessage() uint32 { return uint32(uintptr(unsafe.Pointer(unsafe.SliceData(message)))) }

//go:wasmexport pronate_message_length
func pronateMessageLength() uint32 { return uint32(len(message)) }

//go:wasmexport pronate_version
func pronateVersion() uint32 { return engine.Version }

//go:wasmexport pronate_features
func pronateFeatures() uint32 { return engine.Features() }

// rescue is deferred by every call: what leaves by a panic ends the module.
func rescue(status *int32) {
	if fault := recover(); fault != nil {
		*status = fail(engine.FaultOf(fault))
	}
}

func fail(err error) int32 {
	say(err.Error())
	return int32(engine.StatusOfError(err))
}

// succeed is the end of a call that went well.
func succeed(status engine.Status, remark string) int32 {
	say(remark)
	return int32(status)
}

func say(text string) { message = append(message[:0], engine.Line(text, mostMessage)...) }

// end is the end of a call that has nothing to remark.
func end(err error) int32 {
	if err != nil {
		return fail(err)
	}
	return succeed(engine.OK, "")
}
