package main

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// numbers is a flag that takes numbers with commas between.
type numbers []float64

func (n *numbers) Set(text string) error {
	var list []float64
	for _, part := range strings.Split(text, ",") {
		x, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return errors.New("expected numbers with commas between, such as 0,0.5,1")
		}
		list = append(list, x)
	}
	*n = list
	return nil
}

func (n *numbers) String() string {
	var parts []string
	for _, x := range *n {
		parts = append(parts, strconv.FormatFloat(x, 'g', -1, 64))
	}
	return strings.Join(parts, ",")
}

func (n *numbers) Type() string { return "numbers" }
