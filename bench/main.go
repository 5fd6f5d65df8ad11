// Command bench runs Pronate's solvers beside what one would write with the
// libraries at hand, in Go and other languages, on the same data in one run. It
// prints one table a task: times, ratios and errors from exact answers.
//
//	go run ./bench [-only REGEXP] [-sweeps N] [-json]
//	go run ./bench whole
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"regexp"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	if len(args) > 0 && args[0] == "whole" {
		return whole(args[1:], out)
	}
	flags := flag.NewFlagSet("bench", flag.ContinueOnError)
	only := flags.String("only", "", "`regexp` of the rows to run: \"limb .* float32\"; matched against task, name and precision")
	sweeps := flags.Int("sweeps", 2, "how often to go through all rows; the fastest time counts")
	asJSON := flags.Bool("json", false, "print JSON instead of tables")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return nil
		}
		return err
	}
	if *sweeps < 1 || flags.NArg() > 0 {
		return fmt.Errorf("-sweeps %d %q: expected 1 sweep or more, and no arguments but whole", *sweeps, flags.Args())
	}
	wanted, err := regexp.Compile(*only)
	if err != nil {
		return err
	}
	d := newData(limbs)
	exact := newExactAnswers(d)
	folder, err := os.MkdirTemp("", "pronate-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	shop, err := newWorkshop(folder, *only, d)
	if err != nil {
		return err
	}

	var rows results
	var failed error
	for sweep := range *sweeps {
		fmt.Fprintf(os.Stderr, "sweep %d of %d\n", sweep+1, *sweeps)
		if err := runContenders(&rows, wanted, d, exact); err != nil {
			return err
		}
		// A peer that fails leaves a row, and the others are shown all the same.
		if err := runPeers(&rows, shop, exact); err != nil {
			failed = err
		}
	}
	rows.finish()
	m := thisMachine(shop.versions)
	if *asJSON {
		encoder := json.NewEncoder(out)
		encoder.SetIndent("", "\t")
		err = encoder.Encode(map[string]any{"machine": m, "rows": rows})
	} else {
		fmt.Fprintf(out, "%s\n\n", m)
		err = rows.print(out)
	}
	return errors.Join(err, failed)
}

func runContenders(rows *results, wanted *regexp.Regexp, d *data, exact *exactAnswers) error {
	for _, list := range contenders {
		cs, err := list(d)
		if err != nil {
			return err
		}
		for _, c := range cs {
			if !wanted.MatchString(fmt.Sprintf("%s %s %s", c.task, c.name, c.precision)) {
				continue
			}
			r := row{Task: c.task, Name: c.name, Precision: c.precision, NsPerLimb: c.measure()}
			allocations := c.allocations()
			r.Allocations = &allocations
			if c.answers != nil {
				farthest, err := exact.farthest(c.task, c.precision, c.answers())
				if err != nil {
					return fmt.Errorf("%s: %w", c.name, err)
				}
				r.MaxError = &farthest
			}
			rows.add(r)
		}
	}
	return nil
}

func runPeers(rows *results, shop *workshop, exact *exactAnswers) (failed error) {
	for _, p := range peers {
		got, err := shop.rows(p, exact)
		if err != nil {
			for _, t := range titles {
				rows.add(row{Task: t.task, Name: p.name, Note: err.Error()})
			}
			if !errors.Is(err, errMissing) {
				failed = errors.Join(failed, fmt.Errorf("%s: %w", p.name, err))
			}
		}
		for _, r := range got {
			rows.add(r)
		}
	}
	return failed
}
