package main

import (
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/demo"
	"github.com/pronate/pronate/internal/report"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
)

// pictureRolls are the plots for light and dark pages, and as SVG.
func pictureRolls(source *asset.File, limbs asset.Limbs) (picture report.Picture, svg []byte, err error) {
	rolls, err := measureRolls(source, limbs)
	if err != nil {
		return picture, nil, err
	}
	light, err := plotRolls(rolls, report.Light)
	if err != nil {
		return picture, nil, err
	}
	dark, err := plotRolls(rolls, report.Dark)
	if err != nil {
		return picture, nil, err
	}
	picture.Text = "Two plots of roll in degrees over seconds, of a thigh in the high step and of an upper arm in the overhead reach: the plain field rolls farthest by far."
	if picture.Light, err = light.PNG(); err != nil {
		return picture, nil, err
	}
	if picture.Dark, err = dark.PNG(); err != nil {
		return picture, nil, err
	}
	svg, err = light.SVG()
	return picture, svg, err
}

// measureRolls splits a character once with each field and follows the root
// segments through the clips that raise a limb high and sway it: a list of
// curves for each such limb.
func measureRolls(source *asset.File, limbs asset.Limbs) ([][]report.RollCurve, error) {
	curves := make([][]report.RollCurve, len(demo.RaisedLimbs()))
	for _, field := range []string{asset.FieldShortest, asset.FieldCentred, asset.FieldLeastRoll} {
		specs := slices.Clone(limbs.Limbs)
		for i := range specs {
			if specs[i].Twist == asset.TwistOwn {
				specs[i].Field = field
			}
		}
		split, _, err := asset.Split(source, asset.Options{Limbs: specs})
		if err != nil {
			return nil, err
		}
		evaluator, err := split.Evaluator()
		if err != nil {
			return nil, err
		}
		for i, raised := range demo.RaisedLimbs() {
			roll, err := report.MeasureRoll(evaluator, raised.Clip, raised.Nodes)
			if err != nil {
				return nil, err
			}
			curves[i] = append(curves[i], report.RollCurve{Name: field, Roll: roll})
		}
	}
	return curves, nil
}

func plotRolls(curves [][]report.RollCurve, theme report.Theme) (report.Plots, error) {
	plots := report.Plots{Width: 4.6 * vg.Inch, Height: 3.1 * vg.Inch, Paper: theme.Paper}
	for i, raised := range demo.RaisedLimbs() {
		p, err := report.PlotRolls(raised.Clip+": "+raised.Limb, curves[i], theme)
		if err != nil {
			return plots, err
		}
		plots.Columns = append(plots.Columns, []*plot.Plot{p})
	}
	return plots, nil
}
