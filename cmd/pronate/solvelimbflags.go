package main

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/printable"
	"github.com/spf13/cobra"
)

// solveLimbFlags name the limb that every line is solved by.
type solveLimbFlags struct{ limb, limbs, character string }

func (f *solveLimbFlags) register(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&f.limb, "limb", "", "solve every line by the limb of this name, or of this joint")
	flags.StringVar(&f.limbs, "limbs", "", "limb file that has the limb, - for standard input")
	flags.StringVar(&f.character, "character", "", "solve the limb as it stands in this .glb or .gltf (without --limbs: as detect proposes it)")
	must(
		c.MarkFlagFilename("limbs", limbFiles...),
		c.MarkFlagFilename("character", characterFiles...),
	)
}

// read finds the limb; nil where lines and flags say what one is. in names what
// lines are read from.
func (f *solveLimbFlags) read(c *cobra.Command, axis numbers, in string) (*solveLimb, error) {
	if given, err := f.check(c, in); err != nil || !given {
		return nil, err
	}
	limbs, err := readLimbs(c, f.limbs, "")
	if err != nil {
		return nil, err
	}
	specs := limbs.Limbs
	if f.character == "" {
		spec, err := f.pick(specs, f.limbs)
		if err != nil {
			return nil, err
		}
		return limbAlone(c, spec, axis, f.limbs)
	}
	file, err := open(c, f.character)
	if err != nil {
		return nil, err
	}
	if specs == nil {
		detected, err := asset.Detect(file)
		if err != nil {
			return nil, err
		}
		specs = detected.Limbs
	}
	spec, err := f.pick(specs, cmp.Or(f.limbs, f.character))
	if err != nil {
		return nil, err
	}
	if !limbs.Resolved && file.HasSkin() {
		// The limb as split would have it. One that split leaves as it is, is solved as
		// asked.
		chosen, _, err := asset.Choose(file, nil, asset.Options{Limbs: specs})
		if err != nil {
			return nil, err
		}
		for _, s := range chosen.Limbs {
			if s.Name == spec.Name {
				spec = s
			}
		}
	}
	return limbOf(c, file, spec)
}

// check refuses flags that do not go together, before any file is read.
func (f *solveLimbFlags) check(c *cobra.Command, in string) (given bool, err error) {
	flags := c.Flags()
	standards := 0
	for _, flag := range [...]struct{ name, value string }{
		{"limb", f.limb}, {"limbs", f.limbs}, {"character", f.character},
	} {
		if !flags.Changed(flag.name) {
			continue
		}
		given = true
		if flag.value == "" { // as an unset variable of a shell gives it
			return true, usagef("--%s is empty, expected a name", flag.name)
		}
		if flag.value == standard && flag.name != "limb" {
			standards++
		}
	}
	if !given {
		return false, nil
	}
	for _, name := range []string{"shares", "centre", "tip-shares"} {
		if flags.Changed(name) {
			return true, usagef("--%s: the limb says that, expected none beside --limb, --limbs or --character", name)
		}
	}
	switch {
	case f.character != "" && flags.Changed("axis"):
		return true, usagef("--axis: the character says that, expected none beside --character")
	case f.limbs == "" && f.character == "":
		return true, usagef("--limb %s: expected --limbs or --character beside it, the file that has the limb", f.limb)
	case standards > 0 && in == standard:
		return true, usagef("--limbs - or --character - takes standard input, expected FILE, which the rotations are read from")
	case standards > 1:
		return true, usagef("--limbs - and --character - both want standard input")
	}
	return true, nil
}

// pick finds the limb by its name or, failing that, its joint's.
func (f *solveLimbFlags) pick(specs []asset.LimbSpec, source string) (asset.LimbSpec, error) {
	var names []string
	for _, s := range specs {
		names = append(names, cmp.Or(s.Name, s.Joint))
	}
	at := slices.Index(names, f.limb)
	switch {
	case len(specs) == 0:
		return asset.LimbSpec{}, usagef("%s has no limbs, expected one or more", named(source))
	case f.limb == "" && len(specs) == 1:
		at = 0
	case f.limb == "":
		return asset.LimbSpec{}, usagef("%s has %d limbs, expected --limb and one of %s", named(source), len(specs), namesInShort(names))
	case at < 0:
		at = slices.IndexFunc(specs, func(s asset.LimbSpec) bool { return s.Joint == f.limb })
	}
	if at < 0 {
		return asset.LimbSpec{}, usagef("--limb %s: %s has no such limb, expected one of %s", f.limb, named(source), namesInShort(names))
	}
	return specs[at], nil
}

func named(source string) string {
	if source == standard {
		return "standard input"
	}
	return source
}

// limbAlone is a limb of a limb file and no character.
func limbAlone(c *cobra.Command, spec asset.LimbSpec, axis numbers, source string) (*solveLimb, error) {
	direction, err := vector("axis", axis)
	if err != nil {
		return nil, usageError{err}
	}
	solver, note, err := spec.Solver(asset.Stance{Axis: direction})
	if err != nil {
		return nil, err
	}
	l := &solveLimb{name: cmp.Or(spec.Name, spec.Joint), tip: spec.Tip, solver: solver}
	if note != "" {
		if !c.Flags().Changed("axis") {
			note += "; --axis says where it points"
		}
		warn(c, fmt.Sprintf("%s: limb %q: %s", named(source), l.name, note))
	}
	return l, nil
}

// limbOf is a limb as it stands in a character.
func limbOf(c *cobra.Command, file *asset.File, spec asset.LimbSpec) (*solveLimb, error) {
	found, err := asset.Resolve(file, []asset.LimbSpec{spec})
	if err != nil {
		return nil, err
	}
	info := found[0]
	solver, err := chain.NewSolver(info.Solver)
	if err != nil {
		return nil, err
	}
	for _, text := range info.Warnings {
		warn(c, text)
	}
	return &solveLimb{
		name: info.Spec.Name, tip: info.Spec.Tip, inCharacter: true, solver: solver,
		leaf: leafFrameOf(info.Axis, info.TurnAxis, info.Sense),
	}, nil
}

func warn(c *cobra.Command, text string) {
	fmt.Fprintf(c.ErrOrStderr(), "pronate: warning: %s\n", printable.Text(text))
}
