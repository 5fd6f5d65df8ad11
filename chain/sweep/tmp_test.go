package sweep

import ("testing";"fmt";"time";"github.com/pronate/pronate/chain";"math";"gonum.org/v1/gonum/spatial/r3")

func TestTmp(t *testing.T) {
	d, fw, out := r3.Vec{Y:-1}, r3.Vec{Z:1}, r3.Vec{X:1}
	for _, st := range []float64{0.5,1,0.9,2} {
for name, m := range map[string]Motion{"hip":Hip(d,fw,out),"shoulder":Shoulder(d,fw,out),"wrist":Wrist(d,fw,out)} {
		start := time.Now()
		c, err := Compare(m, Options{Step: st*degree})
		fmt.Println(name, err, time.Since(start), "area", c.Area, "perim", c.Perimeter, "bound", c.Bound)
		for _, f := range []Figures{c.Plain, c.Centred, c.Best} {
			fmt.Printf("  %v worst %.4f at %.1f %.1f rms %.4f ratio %.3f map worst %.3f map rms %.3f undefined %d centre %.2f %.2f sing %.2f %.2f unb %v flips %d\n", f.Field, f.Worst, f.WorstAt.Flexion/degree, f.WorstAt.Abduction/degree, f.RMS, f.Ratio, f.Map.Worst, f.Map.RMS, len(f.Map.Undefined), f.CentreAt.Flexion/degree, f.CentreAt.Abduction/degree, f.Singular.Flexion/degree, f.Singular.Abduction/degree, f.Unbounded, len(f.Flips))
			for i, fl := range f.Flips { if i < 6 || i > len(f.Flips)-3 { fmt.Printf("     %.3f %.3f seg %d jump %.4f\n", fl.At.Flexion/degree, fl.At.Abduction/degree, fl.Segment, fl.Jump) } }
		}
	}
	}
_ = math.Pi
}
func TestTmp2(t *testing.T) {
	d, fw, out := r3.Vec{Y:-1}, r3.Vec{Z:1}, r3.Vec{X:1}
	for name, m := range map[string]Motion{"hip":Hip(d,fw,out),"shoulder":Shoulder(d,fw,out),"wrist":Wrist(d,fw,out)} {
		for _, f := range []chain.Field{1,2,3} {
			for _, ax := range []r3.Vec{d, out, {X:1,Y:-1}} {
			s, err := chain.NewSolver(chain.Limb{Axis: ax, Segments: 3, Field: f, Range: m.Range})
			if err != nil { fmt.Println(name, f, ax, err); continue }
			sw, _ := NewSwings(s)
			for _, r := range []float64{m.Rotation[0], 0, m.Rotation[1]} {
				fl, err := Flips(s, m, r, 2*degree)
				fmt.Print(name, " ", f, ax, " ", r/degree, " ", len(fl), " ", err, " ", sw.Winding(sw.Singular()), " ", sw.Winding(m.Direction(.3,.4)))
				if len(fl) > 0 {fmt.Print(fl[0], fl[len(fl)-1])}
				fmt.Println()
			}
			}
		}
	}
}
