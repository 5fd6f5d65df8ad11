package main

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"io"
	"runtime/pprof"
)

// stacks is a CPU profile: how much time was seen in which stack of functions, the
// innermost first.
type stacks []struct {
	nanoseconds int64
	functions   []string
}

// profiled runs work under the CPU profiler.
func profiled(work func() error) (stacks, error) {
	var compressed bytes.Buffer
	if err := pprof.StartCPUProfile(&compressed); err != nil {
		return nil, err
	}
	err := work()
	pprof.StopCPUProfile()
	if err != nil {
		return nil, err
	}
	reader, err := gzip.NewReader(&compressed)
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(reader)
	if err != nil {
		return nil, err
	}
	return readProfile(data)
}

// readProfile reads what it needs of a profile, a protocol buffer whose fields
// github.com/google/pprof/proto/profile.proto numbers: of the profile 2 sample, 4
// location, 5 function, 6 string; of a sample 1 locations, 2 values, the second of
// them nanoseconds; of a location 1 id, 4 line; of a line 1 function; of a function
// 1 id, 2 name.
func readProfile(data []byte) (stacks, error) {
	var texts []string
	names := map[uint64]uint64{}       // function -> text
	locations := map[uint64][]uint64{} // location -> functions
	type sample struct{ locations, values []uint64 }
	var samples []sample
	err := fields(data, func(field int, number uint64, inner []byte) error {
		switch field {
		case 2:
			var s sample
			err := fields(inner, func(field int, number uint64, packed []byte) error {
				list := map[int]*[]uint64{1: &s.locations, 2: &s.values}[field]
				if list == nil {
					return nil
				}
				if packed == nil {
					*list = append(*list, number)
				}
				for len(packed) > 0 {
					x, n := binary.Uvarint(packed)
					if n <= 0 {
						return errProfile
					}
					*list, packed = append(*list, x), packed[n:]
				}
				return nil
			})
			samples = append(samples, s)
			return err
		case 4:
			var id uint64
			var functions []uint64
			err := fields(inner, func(field int, number uint64, line []byte) error {
				switch field {
				case 1:
					id = number
				case 4:
					return fields(line, func(field int, number uint64, _ []byte) error {
						if field == 1 {
							functions = append(functions, number)
						}
						return nil
					})
				}
				return nil
			})
			locations[id] = functions
			return err
		case 5:
			var id, name uint64
			err := fields(inner, func(field int, number uint64, _ []byte) error {
				switch field {
				case 1:
					id = number
				case 2:
					name = number
				}
				return nil
			})
			names[id] = name
			return err
		case 6:
			texts = append(texts, string(inner))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	out := make(stacks, len(samples))
	for i, s := range samples {
		if len(s.values) > 1 {
			out[i].nanoseconds = int64(s.values[1])
		}
		for _, location := range s.locations {
			for _, function := range locations[location] {
				if text := names[function]; text < uint64(len(texts)) {
					out[i].functions = append(out[i].functions, texts[text])
				}
			}
		}
	}
	return out, nil
}

var errProfile = errors.New("the profile is cut off")

// fields goes through a message of a protocol buffer; inner is nil for a number.
func fields(data []byte, see func(field int, number uint64, inner []byte) error) error {
	for len(data) > 0 {
		key, n := binary.Uvarint(data)
		if n <= 0 {
			return errProfile
		}
		data = data[n:]
		number, n := binary.Uvarint(data)
		if n <= 0 || key&7 != 0 && key&7 != 2 {
			return errProfile
		}
		data = data[n:]
		inner := []byte(nil)
		if key&7 == 2 {
			if number > uint64(len(data)) {
				return errProfile
			}
			inner, data = data[:number:number], data[number:]
		}
		if err := see(int(key>>3), number, inner); err != nil {
			return err
		}
	}
	return nil
}
