package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"

	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/report"
)

// drawPlan writes the curve of loss over segments into a folder.
func drawPlan(folder string, degrees float64, rows []skin.PlanRow) ([]string, error) {
	plots, err := report.PlotPlan(degrees, rows, report.Light)
	if err != nil {
		return nil, err
	}
	return writeFigure(folder, "plan", plots, planCSV(rows))
}

func planCSV(rows []skin.PlanRow) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Write([]string{"segments", "span_twist_deg", "least_radius", "volume", "dual_quaternion", "joints_added"})
	for _, r := range rows {
		w.Write([]string{
			fmt.Sprint(r.Segments), fmt.Sprint(r.SpanAngle * 180 / math.Pi), fmt.Sprint(r.LeastRadius), fmt.Sprint(r.Volume),
			fmt.Sprint(r.DualQuaternion), fmt.Sprint(r.Joints),
		})
	}
	w.Flush() // a buffer takes everything
	return out.Bytes()
}
