//go:build wasip1

package main

import (
	"unsafe"

	"github.com/pronate/pronate/internal/engine"
)

// pronateLimbDescribe writes a pronate_limb_info, which is laid out as in 64 bits.
//
//go:wasmexport pronate_limb_describe
func pronateLimbDescribe(limb uint64, info uint32) (status int32) {
	defer rescue(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	to, err := blocks.bytes("info", info, engine.InfoSize)
	if err != nil {
		return fail(err)
	}
	told := l.Describe()
	copy(to, unsafe.Slice((*byte)(unsafe.Pointer(&told)), engine.InfoSize))
	return end(nil)
}

//go:wasmexport pronate_from_rest
func pronateFromRest(limb uint64, anchor, joint, tip, outJoint, outTip uint32) (status int32) {
	defer rescue(&status)
	l, err := engine.Lookup(engine.Handle(limb))
	if err != nil {
		return fail(err)
	}
	var from [3]*[4]float64
	for i, address := range [...]uint32{anchor, joint, tip} {
		if i == 2 && address == 0 {
			continue
		}
		if from[i], err = rotation([...]string{"anchor", "joint", "tip"}[i], address); err != nil {
			return fail(err)
		}
	}
	toJoint, err := rotation("out_joint", outJoint)
	if err != nil {
		return fail(err)
	}
	toTip := new([4]float64)
	if outTip != 0 {
		if toTip, err = rotation("out_tip", outTip); err != nil {
			return fail(err)
		}
	}
	near, far, err := l.FromRest(from[0], from[1], from[2])
	if err == nil || engine.IsRemark(err) {
		*toJoint, *toTip = near, far
	}
	return end(err)
}

func rotation(name string, address uint32) (*[4]float64, error) {
	q, err := numbers[float64](name, address)
	if err != nil {
		return nil, err
	}
	if len(q) < 4 {
		return nil, badArgument("%s is %d bytes at %d, expected %d", name, 8*len(q), address, 4*8)
	}
	return (*[4]float64)(q), nil
}
