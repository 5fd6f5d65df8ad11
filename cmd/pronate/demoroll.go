package main

import (
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/report"
)

// pictureRolls are the plots for light and dark pages, and as SVG.
func pictureRolls(source *asset.File, limbs asset.Limbs) (picture report.Picture, svg []byte, err error) {
	rolls, err := measureRolls(source, limbs)
	if err != nil {
		return picture, nil, err
	}
	what := demo.RaisedArm.Clip + ", " + demo.RaisedArm.Limb
	light, err := report.PlotRolls(what, rolls, report.Light)
	if err != nil {
		return picture, nil, err
	}
	dark, err := report.PlotRolls(what, rolls, report.Dark)
	if err != nil {
		return picture, nil, err
	}
	picture.Text = "Two plots over the seconds of an overhead reach, of the root segment of an upper arm. Roll: the shortest arc rolls most, balanced somewhat less, least_roll and centred little. " +
		"Twist at the root: none with the shortest arc, little with balanced, much with least_roll and centred."
	if picture.Light, err = light.PNG(); err != nil {
		return picture, nil, err
	}
	if picture.Dark, err = dark.PNG(); err != nil {
		return picture, nil, err
	}
	svg, err = light.SVG()
	return picture, svg, err
}

// measureRolls splits a character once with each field, measured or not, and follows
// the root segment of the arm that reaches overhead.
func measureRolls(source *asset.File, limbs asset.Limbs) (curves []report.RollCurve, err error) {
	for _, field := range []string{asset.FieldShortest, asset.FieldCentred, asset.FieldBalanced, asset.FieldLeastRoll} {
		specs := slices.Clone(limbs.Limbs)
		for i := range specs {
			if specs[i].Twist == asset.TwistOwn {
				specs[i].Field = field
			}
		}
		split, _, err := asset.Split(source, asset.Options{Limbs: specs, AsAsked: true})
		if err != nil {
			return nil, err
		}
		evaluator, err := split.Evaluator()
		if err != nil {
			return nil, err
		}
		roll, err := report.MeasureRoll(evaluator, demo.RaisedArm.Clip, demo.RaisedArm.Nodes)
		if err != nil {
			return nil, err
		}
		curves = append(curves, report.RollCurve{Name: field, Roll: roll})
	}
	return curves, nil
}
