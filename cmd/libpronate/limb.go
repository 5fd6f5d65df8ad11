package main

// #include "door.h"
import "C"

import (
	"fmt"
	"math"
	"unsafe"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
)

//export pronate_go_limb_new
func pronate_go_limb_new(spec *C.pronate_limb_spec, limb *C.pronate_limb) (status C.pronate_status) {
	defer guard(&status)
	if limb == nil {
		return fail(badArgument("limb is null, expected where the limb goes"))
	}
	*limb = 0
	s, err := specOf("spec", spec)
	if err != nil {
		return fail(err)
	}
	return made(limb)(engine.New(s))
}

//export pronate_go_limb_from_text
func pronate_go_limb_from_text(text *C.char, length C.size_t, name *C.char, rest *C.pronate_limb_spec, limb *C.pronate_limb) (status C.pronate_status) {
	defer guard(&status)
	if limb == nil {
		return fail(badArgument("limb is null, expected where the limb goes"))
	}
	*limb = 0
	const longest = 1 << 24 // well past what a limb file may have, which is told by its reader
	switch {
	case text == nil:
		return fail(badArgument("text is null, expected a limb file's"))
	case name == nil:
		return fail(badArgument("name is null, expected a limb's"))
	case length > longest:
		return fail(badArgument(fmt.Sprintf("length is %d, expected %d at most", uint64(length), longest)))
	}
	s, err := specOf("rest", rest)
	if err != nil {
		return fail(err)
	}
	return made(limb)(engine.FromText(C.GoBytes(unsafe.Pointer(text), C.int(length)), C.GoString(name), s))
}

// made hands out a limb that was made, or says why it was not.
func made(limb *C.pronate_limb) func(engine.Handle, error) C.pronate_status {
	return func(h engine.Handle, err error) C.pronate_status {
		*limb = C.pronate_limb(h) // 0 with an error, if that is no remark
		if err != nil {
			return fail(err)
		}
		return C.PRONATE_OK
	}
}

//export pronate_go_limb_free
func pronate_go_limb_free(limb C.pronate_limb) (status C.pronate_status) {
	defer guard(&status)
	if err := engine.Free(engine.Handle(limb)); err != nil {
		return fail(err)
	}
	return C.PRONATE_OK
}

//export pronate_go_limb_segments
func pronate_go_limb_segments(limb C.pronate_limb) (segments C.pronate_status) {
	defer guard(&segments)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	return C.pronate_status(l.Segments())
}

func badArgument(text string) error { return &engine.Error{Status: engine.BadArgument, Text: text} }

func badSpec(format string, args ...any) error {
	return &engine.Error{Status: engine.BadSpec, Text: fmt.Sprintf(format, args...)}
}

// specOf reads a specification, and refuses what a struct in C can hold and one in
// Go cannot, or takes for a default.
func specOf(name string, c *C.pronate_limb_spec) (engine.Spec, error) {
	var none engine.Spec
	if c == nil {
		return none, badArgument(name + " is null, expected a specification")
	}
	// All there has been of the struct yet.
	if c.size != C.sizeof_pronate_limb_spec {
		return none, badSpec("size is %d, expected %d: start from pronate_limb_spec_init", c.size, C.sizeof_pronate_limb_spec)
	}
	s := engine.Spec{
		Segments: int(c.segments), Twist: chain.Twist(c.twist), Ramp: chain.Ramp(c.ramp), Axis: [3]float64(numbers(c.axis[:])),
		Field: chain.Field(c.field), CentreMode: chain.CentreMode(c.centre_mode), Centre: [3]float64(numbers(c.centre[:])),
		Range: engine.Range(c._range), FlexionDeg: [2]float64(numbers(c.flexion_deg[:])), AbductionDeg: [2]float64(numbers(c.abduction_deg[:])),
		Down: [3]float64(numbers(c.down[:])), Forward: [3]float64(numbers(c.forward[:])), Out: [3]float64(numbers(c.out[:])),
		AnchorRest: [4]float64(numbers(c.anchor_rest[:])), JointRest: [4]float64(numbers(c.joint_rest[:])), TipRest: [4]float64(numbers(c.tip_rest[:])),
	}
	if c.reserved != 0 {
		return none, badSpec("reserved is %d, expected 0", c.reserved)
	}
	for _, field := range []struct {
		name    string
		numbers []float64
		what    string
	}{
		{"axis", s.Axis[:], "direction"},
		{"anchor_rest", s.AnchorRest[:], "rotation"}, {"joint_rest", s.JointRest[:], "rotation"}, {"tip_rest", s.TipRest[:], "rotation"},
	} {
		if isZero(field.numbers) {
			return none, badSpec("%s is all 0, expected a %s of non-zero length", field.name, field.what)
		}
	}
	var err error
	if s.Shares, err = sharesOf("share", "shares", c.shares, c.share_count); err != nil {
		return none, err
	}
	s.TipShares, err = sharesOf("tip_share", "tip_shares", c.tip_shares, c.tip_share_count)
	return s, err
}

func sharesOf(one, name string, p *C.double, count C.uint32_t) ([]float64, error) {
	switch {
	case p == nil && count == 0:
		return nil, nil
	case p == nil:
		return nil, badSpec("%s is null and %s_count %d, expected 0", name, one, count)
	case count < chain.MinSegments || count > chain.MaxSegments:
		return nil, badSpec("%s_count is %d, expected %d to %d", one, count, chain.MinSegments, chain.MaxSegments)
	}
	return numbers(unsafe.Slice(p, count)), nil
}

// numbers copies C's into Go's.
func numbers(from []C.double) []float64 {
	to := make([]float64, len(from))
	for i, x := range from {
		to[i] = float64(x)
	}
	return to
}

func isZero(numbers []float64) bool {
	largest := 0.
	for _, x := range numbers {
		largest = max(largest, math.Abs(x))
	}
	return largest == 0
}
