package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"text/tabwriter"
)

// A row is what was measured of one way to do a task.
type row struct {
	Task        task      `json:"task"`
	Name        string    `json:"name"`
	Precision   precision `json:"precision"`
	NsPerLimb   float64   `json:"ns_per_limb,omitempty"`
	Ratio       float64   `json:"ratio,omitempty"`       // of the times, to the base of the same task and precision
	Allocations *float64  `json:"allocations,omitempty"` // a limb, of what runs in this process
	MaxError    *float64  `json:"max_error,omitempty"`   // of a component, of what computes anything
	Note        string    `json:"note,omitempty"`        // or why there are no figures
}

// base is what ratios are to.
const base = "Eigen, careful"

// results are rows, of several sweeps the fastest ones.
type results []row

func (rs *results) add(r row) {
	for i, old := range *rs {
		if old.Task == r.Task && old.Name == r.Name && old.Precision == r.Precision {
			worst := r.MaxError
			if worst == nil || old.MaxError != nil && *old.MaxError > *worst {
				worst = old.MaxError
			}
			if r.NsPerLimb < old.NsPerLimb {
				(*rs)[i] = r
			}
			(*rs)[i].MaxError = worst // of all sweeps
			return
		}
	}
	*rs = append(*rs, r)
}

// finish sets the ratios.
func (rs results) finish() {
	for i := range rs {
		for _, r := range rs {
			if r.Name == base && r.Task == rs[i].Task && r.Precision == rs[i].Precision {
				rs[i].Ratio = rs[i].NsPerLimb / r.NsPerLimb
			}
		}
	}
}

// titles are the tasks' in the order of the tables.
var titles = []struct {
	task  task
	title string
}{
	{limb, fmt.Sprintf("limb: the twist split off and dealt out to %d segments, shortest arc if the name has no other, %d limbs a pass", segments, limbs)},
	{aim, fmt.Sprintf("aim: a rotation's axis pointed along a target by the shortest arc, %d a pass", limbs)},
}

// print writes a table for each task, by precision and time.
func (rs results) print(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, t := range titles {
		var rows results
		for _, r := range rs {
			if r.Task == t.task {
				rows = append(rows, r)
			}
		}
		if len(rows) == 0 {
			continue
		}
		slices.SortStableFunc(rows, func(a, b row) int {
			// float64, then float32, then what did not run
			return cmp.Or(cmp.Compare(b.Precision, a.Precision), cmp.Compare(a.NsPerLimb, b.NsPerLimb))
		})
		fmt.Fprintf(w, "%s\n", t.title)
		fmt.Fprintf(w, "\tprecision\tns a limb\tto %s\tallocations\tmax error\t\n", base)
		for _, r := range rows {
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", r.Name, r.Precision,
				figure(r.NsPerLimb), figure(r.Ratio), optional("%.2g", r.Allocations), optional("%.1e", r.MaxError), r.Note)
		}
		fmt.Fprintln(w)
	}
	return w.Flush()
}

// figure is a positive number in three digits or more; nothing for 0.
func figure(x float64) string {
	switch {
	case x == 0:
		return ""
	case x < 10:
		return fmt.Sprintf("%.2f", x)
	case x < 100:
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.0f", x)
}

func optional(format string, x *float64) string {
	if x == nil {
		return ""
	}
	return fmt.Sprintf(format, *x)
}
