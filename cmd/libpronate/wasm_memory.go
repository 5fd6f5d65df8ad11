//go:build wasip1

package main

import (
	"fmt"
	"slices"
	"unsafe"

	"github.com/pronate/pronate/internal/engine"
)

// A block is memory that the host has. Go's collector does not move it, and leaves
// it alone as long as it is listed here.
type block struct {
	address, size uint64
	words         []uint64 // 8 bytes each, so that every number lies as it should
}

// blockList is in order of address.
type blockList struct {
	list  []block
	total uint64 // bytes
	last  int    // place of the block that was asked for last: a batch is all in one
}

var blocks blockList

// mostBytes is what may be given out in all. Past what the host grants the module
// ends itself, which no call can turn into a status; so it is far below the 4 GiB
// that a module can address.
const mostBytes = 1 << 30

func badArgument(format string, args ...any) error {
	return &engine.Error{Status: engine.BadArgument, Text: fmt.Sprintf(format, args...)}
}

// pronateAlloc gives out memory, all zeros, at an address that 8 divides; 0 where it
// cannot, and the message says why. It is freed by pronate_free_memory.
//
//go:wasmexport pronate_alloc
func pronateAlloc(size uint32) (address uint32) {
	var status int32
	defer rescue(&status)
	address, err := blocks.alloc(uint64(size))
	end(err)
	return address
}

// pronateFreeMemory frees what pronate_alloc gave out. 0 is fine and does nothing.
//
//go:wasmexport pronate_free_memory
func pronateFreeMemory(address uint32) (status int32) {
	defer rescue(&status)
	return end(blocks.free(uint64(address)))
}

func (b *blockList) alloc(size uint64) (uint32, error) {
	size = min(size, mostBytes+1)
	size = 8 * max(1, (size+7)/8) // even nothing has an address of its own
	if size > mostBytes-b.total {
		return 0, badArgument("%d bytes asked for, expected %d at most: %d of %d are given out", size, mostBytes-b.total, b.total, uint64(mostBytes))
	}
	words := make([]uint64, size/8)
	one := block{uint64(uintptr(unsafe.Pointer(&words[0]))), size, words}
	i, _ := b.find(one.address)
	b.list = slices.Insert(b.list, i, one)
	b.total += one.size
	return uint32(one.address), nil
}

func (b *blockList) free(address uint64) error {
	if address == 0 {
		return nil
	}
	i, ok := b.find(address)
	if !ok {
		return badArgument("address is %d, expected one that pronate_alloc gave out and that was not freed", address)
	}
	b.total -= b.list[i].size
	b.list = slices.Delete(b.list, i, i+1) // which forgets the last one's words
	return nil
}

func (b *blockList) find(address uint64) (int, bool) {
	return slices.BinarySearchFunc(b.list, address, func(one block, address uint64) int {
		switch {
		case one.address < address:
			return -1
		case one.address > address:
			return 1
		}
		return 0
	})
}

// rest is the memory from an address to the end of its block.
func (b *blockList) rest(name string, address uint32) ([]byte, error) {
	if address == 0 {
		return nil, badArgument("%s is null, expected an address", name)
	}
	if !b.isIn(b.last, address) {
		i, ok := b.find(uint64(address))
		if !ok {
			i--
		}
		if !b.isIn(i, address) {
			return nil, badArgument("%s is %d, expected an address in memory that pronate_alloc gave out", name, address)
		}
		b.last = i
	}
	one := &b.list[b.last]
	all := unsafe.Slice((*byte)(unsafe.Pointer(&one.words[0])), one.size)
	return all[uint64(address)-one.address:], nil
}

func (b *blockList) isIn(place int, address uint32) bool {
	if place < 0 || place >= len(b.list) {
		return false
	}
	one := &b.list[place]
	return uint64(address) >= one.address && uint64(address)-one.address < one.size
}

// bytes are so many of them at an address.
func (b *blockList) bytes(name string, address, size uint32) ([]byte, error) {
	rest, err := b.rest(name, address)
	if err != nil {
		return nil, err
	}
	if uint64(size) > uint64(len(rest)) {
		return nil, badArgument("%s is %d bytes at %d, expected %d at most: there its memory ends", name, size, address, len(rest))
	}
	return rest[:size], nil
}

// numbers are all those from an address to the end of its block: how many are
// needed is for who reads them to see to.
func numbers[F float32 | float64 | uint32](name string, address uint32) ([]F, error) {
	rest, err := blocks.rest(name, address)
	if err != nil {
		return nil, err
	}
	size := int(unsafe.Sizeof(F(0)))
	if int(address)%size != 0 {
		return nil, badArgument("%s is %d, expected an address that %d divides", name, address, size)
	}
	return unsafe.Slice((*F)(unsafe.Pointer(unsafe.SliceData(rest))), len(rest)/size), nil
}
