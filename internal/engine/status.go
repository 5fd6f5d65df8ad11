package engine

import (
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/printable"
)

// Status is how a call went: negative where nothing was done, positive where all
// was and something is to be said of it.
type Status int32

const (
	OK          Status = 0
	Undefined   Status = 1  // a twist was undefined and taken as none
	NotFinite   Status = 2  // NaN or Inf came in
	RangeOut    Status = 3  // a limb file's range of motion was left out
	BadArgument Status = -1 // a null pointer, a count or a step that cannot be
	BadLimb     Status = -2 // not a limb, or freed already
	BadSpec     Status = -3 // makes no limb
	Fault       Status = -4 // of the library itself
)

// Error is a failure with its status, or, where that is positive, a remark on what
// was done all the same.
type Error struct {
	Status Status
	Text   string // one line, or nearly: see Line
}

func (e *Error) Error() string { return e.Text }

func (s Status) errorf(format string, args ...any) error {
	return &Error{s, fmt.Sprintf(format, args...)}
}

// StatusOfError is the status of an error that this package gave; of any other it
// is Fault.
func StatusOfError(err error) Status {
	if err == nil {
		return OK
	}
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Status
	}
	return Fault
}

// IsRemark reports whether all was done in spite of an error.
func IsRemark(err error) bool { return StatusOfError(err) > OK }

// FaultOf is the error of a panic that was recovered from.
func FaultOf(recovered any) error {
	return Fault.errorf("a fault in the library, please report it: %v", recovered)
}

// StatusOf is the status of a batch: NotFinite goes before Undefined.
func StatusOf(o chain.Outcome) Status {
	switch {
	case o.Bad > 0:
		return NotFinite
	case o.Undefined > 0:
		return Undefined
	}
	return OK
}

// Remark says what is special about n solved twists; empty for nothing.
func Remark(o chain.Outcome, n uint64) string {
	switch StatusOf(o) {
	case NotFinite:
		return fmt.Sprintf("%d of %d poses came with NaN or Inf, expected finite rotations; their segments are NaN (and %d had an undefined twist, taken as none)", o.Bad, n, o.Undefined)
	case Undefined:
		return fmt.Sprintf("%d of %d poses have an undefined twist, with the bone straight away from the centre of its swings (or a tip half a turn off) or a zero quaternion; it was taken as none", o.Undefined, n)
	}
	return ""
}

// AimRemark says what is special about n aimed frames.
func AimRemark(o chain.Outcome, n uint64) string {
	switch StatusOf(o) {
	case NotFinite:
		return fmt.Sprintf("%d of %d frames or targets came with NaN or Inf, expected finite ones; those frames are NaN (and %d have no one answer)", o.Bad, n, o.Undefined)
	case Undefined:
		return fmt.Sprintf("%d of %d frames have no one answer, half a turn of arc, a zero quaternion or a zero target; one was taken", o.Undefined, n)
	}
	return ""
}

// Line makes a message fit to hand out: one line, without control characters, of
// so many bytes of UTF-8 at most.
func Line(text string, most int) string {
	if len(text) > most { // an escaped character is no shorter than it was
		text = text[:most]
	}
	text = printable.Text(text)
	if len(text) <= most {
		return text
	}
	for most > 0 && !utf8.RuneStart(text[most]) {
		most--
	}
	return text[:most]
}
