package check_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/check"
	"github.com/stretchr/testify/require"
)

// At 140 degrees of flexion Wren's elbows lie 35 mm in themselves. With 2 cm of
// relief on either side it is less than half, and nothing moves at rest.
func TestReliefAtTheElbow(t *testing.T) {
	plain, err := check.Run(wren(t), check.Options{})
	require.NoError(t, err)
	limbs, err := asset.Detect(wren(t))
	require.NoError(t, err)
	for i := range limbs.Limbs {
		l := &limbs.Limbs[i]
		switch l.Joint {
		case "upper_arm_l", "upper_arm_r":
			l.Crease = &asset.Crease{At: "end", Most: 0.02}
		case "forearm_l", "forearm_r":
			l.Crease = &asset.Crease{At: "root", Most: 0.02}
		}
	}
	eased, err := check.Run(wren(t), check.Options{Limbs: limbs.Limbs})
	require.NoError(t, err)
	elbows := 0
	for i, fold := range plain.Folds {
		require.Equal(t, fold.Before, eased.Folds[i].Before)
		require.InDelta(t, fold.Before, fold.After, 1e-4, "a split alone eases nothing")
		if fold.Flexion != 140 {
			continue
		}
		elbows++
		require.Greater(t, fold.Before, 0.02)
		require.Less(t, eased.Folds[i].After, 0.5*fold.Before, fold.Joint)
	}
	require.Equal(t, 2, elbows)
	_, report, err := asset.Split(wren(t), asset.Options{Limbs: limbs.Limbs})
	require.NoError(t, err)
	require.Less(t, report.RestErrorMax, 1e-6)
}

// Following the advice on folds once leaves none to give, with both sides in the
// limb file and with one alone; a crease that is too small is raised.
func TestCreaseAdviceConverges(t *testing.T) {
	const text = `(?:write "crease: {at: (\w+), most_m: ([\d.]+)}"|raise crease most_m from [\d.]+ to ([\d.]+)) for ([\w ,]+?)(?:, and|\.)`
	limbs, err := asset.Detect(wren(t))
	require.NoError(t, err)
	creases := func(advice []string) (out []string) {
		for _, a := range advice {
			if strings.Contains(a, "crease") {
				out = append(out, a)
			}
		}
		return out
	}
	for i := range limbs.Limbs {
		if l := &limbs.Limbs[i]; strings.HasPrefix(l.Joint, "thigh") {
			l.Crease = &asset.Crease{At: "end", Most: 0.02}
		}
	}
	found, err := check.Run(wren(t), check.Options{Limbs: limbs.Limbs})
	require.NoError(t, err)
	advice := creases(found.Advice)
	require.Len(t, advice, 2)
	require.Contains(t, advice[0], "raise crease most_m from 0.020 to 0.0")
	require.Contains(t, advice[0], "for left thigh, right thigh. That eases one side alone")
	require.Contains(t, advice[1], "for left upper arm, right upper arm, and write")
	require.Contains(t, advice[1], "for left forearm, right forearm.")
	for _, a := range advice {
		for _, m := range regexp.MustCompile(text).FindAllStringSubmatch(a, -1) {
			most, err := strconv.ParseFloat(m[2]+m[3], 64)
			require.NoError(t, err)
			for name := range strings.SplitSeq(m[4], ", ") {
				for i := range limbs.Limbs {
					if l := &limbs.Limbs[i]; l.Name == name && m[1] != "" {
						l.Crease = &asset.Crease{At: m[1], Most: most}
					} else if l.Name == name {
						l.Crease.Most = most
					}
				}
			}
		}
	}
	found, err = check.Run(wren(t), check.Options{Limbs: limbs.Limbs})
	require.NoError(t, err)
	require.Empty(t, creases(found.Advice))
}
