package main

import "strconv"

// outputRow is a row of output whose memory serves again for the next.
type outputRow struct {
	cells []string
	text  []byte // of the cells that are not carried through
	ends  []int  // of each of them in text
}

// fill gives cells that are good until the next call.
func (o *outputRow) fill(row []string, columns csvColumns, answer *solved) []string {
	o.cells, o.text, o.ends = o.cells[:0], o.text[:0], o.ends[:0]
	for _, i := range columns.carried {
		o.cells = append(o.cells, row[i])
	}
	o.perhaps(answer.Twist)
	o.number(answer.Condition)
	if answer.TipTwist != nil {
		o.perhaps(*answer.TipTwist)
	}
	o.quaternion(&answer.Swing)
	for i := range answer.Segments {
		o.quaternion(&answer.Segments[i])
	}
	text, start := string(o.text), 0 // once for all of them
	for _, end := range o.ends {
		o.cells = append(o.cells, text[start:end])
		start = end
	}
	return o.cells
}

func (o *outputRow) quaternion(q *[4]float64) {
	for _, x := range q {
		o.number(x)
	}
}

// perhaps leaves the cell empty where there is no number.
func (o *outputRow) perhaps(x *float64) {
	if x == nil {
		o.ends = append(o.ends, len(o.text))
		return
	}
	o.number(*x)
}

func (o *outputRow) number(x float64) {
	o.text = strconv.AppendFloat(o.text, x, 'g', -1, 64)
	o.ends = append(o.ends, len(o.text))
}
