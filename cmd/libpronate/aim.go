package main

// #include "door.h"
import "C"

import (
	"unsafe"

	"github.com/pronate/pronate/internal/engine"
)

//export pronate_go_aim_f32
func pronate_go_aim_f32(axis *C.double, dst, frames, targets *C.float, n C.size_t) (status C.pronate_status) {
	defer guard(&status)
	o, err := engine.AimPacked((*[3]float64)(unsafe.Pointer(axis)), (*float32)(dst), (*float32)(frames), (*float32)(targets), uint64(n))
	if err != nil {
		return fail(err)
	}
	return done(o, n, engine.AimRemark)
}

//export pronate_go_aim_f64
func pronate_go_aim_f64(axis *C.double, dst, frames, targets *C.double, n C.size_t) (status C.pronate_status) {
	defer guard(&status)
	o, err := engine.AimPacked((*[3]float64)(unsafe.Pointer(axis)), (*float64)(dst), (*float64)(frames), (*float64)(targets), uint64(n))
	if err != nil {
		return fail(err)
	}
	return done(o, n, engine.AimRemark)
}
