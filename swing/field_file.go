package swing

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"

	"github.com/pronate/pronate/internal/steady"
	"gonum.org/v1/gonum/spatial/r3"
)

// A field's file is little-endian: these four bytes, one of the version, the
// axis, the centre and the plane's x (9 float64), and for a corrected field the box's corner
// and the side of a cell (3 float64), its cells each way (2 uint16; 0 where
// there is no correction) and the coefficients (float32, row by row); last the
// CRC-32 (IEEE) of all before it.
const (
	fieldMagic   = "PNFD"
	fieldVersion = 1
	mostCells    = 512 // each way
)

type fieldHeader struct {
	Magic        [4]byte
	Version      uint8
	Axis, Centre r3.Vec
	Across       r3.Vec // the plane's x
	X, Y, Step   float64
	NX, NY       uint16
}

// MarshalBinary writes the field as some kilobytes. [Field.UnmarshalBinary] gives it
// back to the last bit. The zero Field has nothing to write: an error.
func (f *Field) MarshalBinary() ([]byte, error) {
	if f.axis == (r3.Vec{}) {
		return nil, errors.New("swing: field file: the field is empty, expected one made by NewField or LeastRoll")
	}
	header := fieldHeader{Magic: [4]byte([]byte(fieldMagic)), Version: fieldVersion, Axis: f.axis, Centre: f.centre, Across: f.x}
	var coef []float32
	if s := f.correction; s != nil {
		header.X, header.Y, header.Step, header.NX, header.NY = s.x, s.y, s.step, uint16(s.nx), uint16(s.ny)
		coef = s.coef
	}
	data, err := binary.Append(nil, binary.LittleEndian, header)
	if err != nil {
		return nil, err
	}
	if data, err = binary.Append(data, binary.LittleEndian, coef); err != nil {
		return nil, err
	}
	return binary.LittleEndian.AppendUint32(data, crc32.ChecksumIEEE(data)), nil
}

var errFieldFile = errors.New("swing: no field file, or a damaged one")

// UnmarshalBinary reads what [Field.MarshalBinary] wrote. Where it fails f stays as it
// was.
func (f *Field) UnmarshalBinary(data []byte) error {
	var header fieldHeader
	size := binary.Size(header)
	if len(data) < size+4 || !bytes.HasPrefix(data, []byte(fieldMagic)) {
		return errFieldFile
	}
	if _, err := binary.Decode(data, binary.LittleEndian, &header); err != nil {
		return errFieldFile
	}
	if header.Version != fieldVersion {
		return fmt.Errorf("swing: field file of version %d, expected %d", header.Version, fieldVersion)
	}
	body := data[:len(data)-4]
	if crc32.ChecksumIEEE(body) != binary.LittleEndian.Uint32(data[len(body):]) {
		return errFieldFile
	}
	// They were unit vectors when they were saved; normalised again they could
	// lose their last bit.
	const rounding = 8 * 0x1p-52
	if !(math.Abs(steady.Norm2(header.Axis)-1) < rounding && math.Abs(steady.Norm2(header.Centre)-1) < rounding) {
		return errFieldFile
	}
	made, ok := fieldOf(header.Axis, header.Centre)
	if !ok || !(math.Abs(steady.Norm2(header.Across)-1) < rounding && math.Abs(steady.Dot(header.Across, header.Centre)) < rounding) {
		return errFieldFile
	}
	made.x, made.y = header.Across, steady.Cross(header.Centre, header.Across)
	body = body[size:]
	if header.NX == 0 && header.NY == 0 {
		unused := math.Float64bits(header.X) | math.Float64bits(header.Y) | math.Float64bits(header.Step)
		if len(body) != 0 || unused != 0 {
			return errFieldFile
		}
		*f = *made
		return nil
	}
	s := &spline{x: header.X, y: header.Y, step: header.Step, nx: int(header.NX), ny: int(header.NY)}
	count := (s.nx + 3) * (s.ny + 3)
	fine := s.step > 0 && (s.x+s.y+s.step)*0 == 0 && s.nx > 0 && s.ny > 0 && max(s.nx, s.ny) <= mostCells && len(body) == 4*count
	if !fine {
		return errFieldFile
	}
	s.coef = make([]float32, count)
	if _, err := binary.Decode(body, binary.LittleEndian, s.coef); err != nil {
		return errFieldFile
	}
	if !s.isBounded() || !s.isLevel() {
		return errFieldFile
	}
	made.correction = s
	made.settle()
	*f = *made
	return nil
}
