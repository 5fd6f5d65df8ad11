//go:build wasip1

package main

import (
	"encoding/binary"

	"github.com/pronate/pronate/internal/engine"
)

// pronateLimbFromSpec makes a limb from the JSON form of a specification and puts
// its number at limb.
//
//go:wasmexport pronate_limb_from_spec
func pronateLimbFromSpec(json, length, limb uint32) (status int32) {
	defer rescue(&status)
	number, err := blocks.bytes("limb", limb, 8)
	if err != nil {
		return fail(err)
	}
	text, err := blocks.bytes("json", json, length)
	if err != nil {
		return fail(err)
	}
	handle, err := limbFromSpec(text)
	binary.LittleEndian.PutUint64(number, uint64(handle))
	return end(err)
}

func limbFromSpec(json []byte) (engine.Handle, error) {
	spec, err := engine.ParseSpec(json)
	if err != nil {
		return 0, err
	}
	return engine.New(spec)
}

//go:wasmexport pronate_limb_free
func pronateLimbFree(limb uint64) (status int32) {
	defer rescue(&status)
	return end(engine.Free(engine.Handle(limb)))
}

//go:wasmexport pronate_limb_segments
func pronateLimbSegments(limb uint64) (segments int32) {
	defer rescue(&segments)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	return succeed(engine.Status(l.Segments()), "")
}
