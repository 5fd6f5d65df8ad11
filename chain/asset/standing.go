package asset

// standing reports whether the character stands at rest as a person does, whose ranges
// of motion then hold for its limbs.
func (d *finder) standing() bool {
	if d.bare {
		return true // as LimbSpec.Solver takes it to be
	}
	look, err := d.file.look()
	return err == nil && look.standsLikePerson(look.found)
}
