package main

// #include "door.h"
import "C"

import (
	"unsafe"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
)

// The structs of C are those of engine.
var (
	_ = [1]struct{}{}[unsafe.Sizeof(C.pronate_result{})-unsafe.Sizeof(engine.Result{})]
	_ = [1]struct{}{}[unsafe.Offsetof(C.pronate_result{}.condition)-unsafe.Offsetof(engine.Result{}.Condition)]
	_ = [1]struct{}{}[unsafe.Sizeof(C.pronate_limb_info{})-engine.InfoSize]
	_ = [1]struct{}{}[unsafe.Offsetof(C.pronate_limb_info{}.shares)-unsafe.Offsetof(engine.Info{}.Shares)]
	_ = [1]struct{}{}[unsafe.Sizeof(C.pronate_rotations_f32{})-unsafe.Sizeof(engine.Layout[float32]{})]
	_ = [1]struct{}{}[unsafe.Offsetof(C.pronate_rotations_f32{}.stride)-unsafe.Offsetof(engine.Layout[float32]{}.Stride)]
)

//export pronate_go_solve
func pronate_go_solve(limb C.pronate_limb, joint, tip, segments *C.double, result *C.pronate_result) (status C.pronate_status) {
	defer guard(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	if segments == nil {
		return fail(badArgument("segments is null, expected an array"))
	}
	to := unsafe.Slice((*float64)(segments), 4*l.Segments())
	r, how, err := l.Solve(to, (*[4]float64)(unsafe.Pointer(joint)), (*[4]float64)(unsafe.Pointer(tip)))
	if err != nil {
		return fail(err)
	}
	if result != nil {
		*(*engine.Result)(unsafe.Pointer(result)) = r
	}
	switch how {
	case engine.NotFinite:
		say(engine.Remark(chain.Outcome{Bad: 1}, 1))
	case engine.Undefined:
		say(engine.Remark(chain.Outcome{Undefined: 1}, 1))
	}
	return C.pronate_status(how)
}

//export pronate_go_solve_f32
func pronate_go_solve_f32(limb C.pronate_limb, dst, joints, tips *C.float, n C.size_t) (status C.pronate_status) {
	defer guard(&status)
	o, err := engine.SolvePacked(engine.Handle(limb), (*float32)(dst), (*float32)(joints), (*float32)(tips), uint64(n))
	if err != nil {
		return fail(err)
	}
	return done(o, n, engine.Remark)
}

//export pronate_go_solve_f64
func pronate_go_solve_f64(limb C.pronate_limb, dst, joints, tips *C.double, n C.size_t) (status C.pronate_status) {
	defer guard(&status)
	o, err := engine.SolvePacked(engine.Handle(limb), (*float64)(dst), (*float64)(joints), (*float64)(tips), uint64(n))
	if err != nil {
		return fail(err)
	}
	return done(o, n, engine.Remark)
}
