package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// decimal is a flag that takes one number.
type decimal struct {
	value float64
	such  string // what somebody could write
}

func (d *decimal) Set(text string) error {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		return fmt.Errorf("expected a number, such as %s", d.such)
	}
	d.value = x
	return nil
}

func (d *decimal) String() string { return strconv.FormatFloat(d.value, 'g', -1, 64) }

func (d *decimal) Type() string { return "number" }

// flagError words what a command's flags could not read: a whole number's
// errors are strconv's otherwise.
func flagError(_ *cobra.Command, err error) error {
	if number := (*strconv.NumError)(nil); errors.As(err, &number) {
		return errors.New(strings.TrimSuffix(err.Error(), number.Error()) + "expected a whole number, such as 4")
	}
	return err
}

// fixed is a number with so many decimals, without the sign of what rounds to 0.
func fixed(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}
