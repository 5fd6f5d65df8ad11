package main

// #include "door.h"
import "C"

import (
	"unsafe"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
)

//export pronate_go_solve_layout_f32
func pronate_go_solve_layout_f32(limb C.pronate_limb, dst *C.pronate_rotations_f32, joints, tips *C.pronate_const_rotations_f32, n C.size_t, threads C.uint32_t, outcome *C.pronate_outcome) (status C.pronate_status) {
	defer guard(&status)
	o, err := engine.SolveLayout(engine.Handle(limb), target32(dst), layout32(joints), layout32(tips), uint64(n), uint32(threads))
	if err != nil {
		return fail(err)
	}
	tell(outcome, o)
	return done(o, n, engine.Remark)
}

//export pronate_go_solve_layout_f64
func pronate_go_solve_layout_f64(limb C.pronate_limb, dst *C.pronate_rotations_f64, joints, tips *C.pronate_const_rotations_f64, n C.size_t, threads C.uint32_t, outcome *C.pronate_outcome) (status C.pronate_status) {
	defer guard(&status)
	o, err := engine.SolveLayout(engine.Handle(limb), target64(dst), layout64(joints), layout64(tips), uint64(n), uint32(threads))
	if err != nil {
		return fail(err)
	}
	tell(outcome, o)
	return done(o, n, engine.Remark)
}

func target32(r *C.pronate_rotations_f32) *engine.Layout[float32] {
	return (*engine.Layout[float32])(unsafe.Pointer(r))
}

func target64(r *C.pronate_rotations_f64) *engine.Layout[float64] {
	return (*engine.Layout[float64])(unsafe.Pointer(r))
}

func layout32(r *C.pronate_const_rotations_f32) *engine.Layout[float32] {
	return (*engine.Layout[float32])(unsafe.Pointer(r))
}

func layout64(r *C.pronate_const_rotations_f64) *engine.Layout[float64] {
	return (*engine.Layout[float64])(unsafe.Pointer(r))
}

func tell(outcome *C.pronate_outcome, o chain.Outcome) {
	if outcome != nil {
		outcome.undefined, outcome.not_finite = C.uint64_t(o.Undefined), C.uint64_t(o.Bad)
	}
}
