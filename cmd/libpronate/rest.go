package main

// #include "door.h"
import "C"

import (
	"fmt"
	"unsafe"

	"github.com/pronate/pronate/internal/engine"
)

//export pronate_go_limb_describe
func pronate_go_limb_describe(limb C.pronate_limb, info *C.pronate_limb_info) (status C.pronate_status) {
	defer guard(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	switch {
	case err != nil:
		return fail(err)
	case info == nil:
		return fail(badArgument("info is null, expected where to tell"))
	case info.size != C.sizeof_pronate_limb_info: // all there has been of the struct yet
		return fail(badArgument(fmt.Sprintf("info->size is %d, expected %d, the struct's", info.size, C.sizeof_pronate_limb_info)))
	}
	*(*engine.Info)(unsafe.Pointer(info)) = l.Describe()
	return C.PRONATE_OK
}

//export pronate_go_from_rest
func pronate_go_from_rest(limb C.pronate_limb, anchor, joint, tip, outJoint, outTip *C.double) (status C.pronate_status) {
	defer guard(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	switch {
	case err != nil:
		return fail(err)
	case outJoint == nil:
		return fail(badArgument("out_joint is null, expected where the rotation goes"))
	}
	near, far, err := l.FromRest(rotation(anchor), rotation(joint), rotation(tip))
	if err != nil && !engine.IsRemark(err) {
		return fail(err)
	}
	*rotation(outJoint) = near
	if outTip != nil {
		*rotation(outTip) = far
	}
	if err != nil {
		return fail(err)
	}
	return C.PRONATE_OK
}

func rotation(q *C.double) *[4]float64 { return (*[4]float64)(unsafe.Pointer(q)) }
