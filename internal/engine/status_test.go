package engine

import (
	"errors"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/kernel"
	"github.com/stretchr/testify/require"
)

// inHeader is the number of a name in pronate.h, which is what others read.
func inHeader(t *testing.T, name string) string {
	t.Helper()
	header, err := os.ReadFile("../../cmd/libpronate/pronate.h")
	require.NoError(t, err)
	found := regexp.MustCompile(`(?m)(?:#define\s+|\b)` + name + `\s*=?\s*(-?\d+)`).FindSubmatch(header)
	require.NotNil(t, found, name)
	return string(found[1])
}

// The header and this package have the same numbers.
func TestHeader(t *testing.T) {
	for name, want := range map[string]int{
		"PRONATE_VERSION_MAJOR": Major, "PRONATE_VERSION_MINOR": Minor, "PRONATE_VERSION_PATCH": Patch,
		"PRONATE_OK": int(OK), "PRONATE_UNDEFINED": int(Undefined), "PRONATE_NOT_FINITE": int(NotFinite), "PRONATE_RANGE_LEFT_OUT": int(RangeOut),
		"PRONATE_BAD_ARGUMENT": int(BadArgument), "PRONATE_BAD_LIMB": int(BadLimb), "PRONATE_BAD_SPEC": int(BadSpec), "PRONATE_FAULT": int(Fault),
		"PRONATE_AVX2":      int(FeatureAVX2),
		"PRONATE_TWIST_OWN": int(chain.Own), "PRONATE_TWIST_TIP": int(chain.Tip),
		"PRONATE_RAMP_LINEAR": int(chain.Linear), "PRONATE_RAMP_SMOOTH": int(chain.Smooth),
		"PRONATE_FIELD_ANY": int(chain.AnyField), "PRONATE_FIELD_SHORTEST": int(chain.Shortest), "PRONATE_FIELD_CENTRED": int(chain.Centred), "PRONATE_FIELD_LEAST_ROLL": int(chain.LeastRoll),
		"PRONATE_CENTRE_AUTO": int(chain.Auto), "PRONATE_CENTRE_NONE": int(chain.None), "PRONATE_CENTRE_GIVEN": int(chain.Given),
		"PRONATE_RANGE_NONE": int(RangeNone), "PRONATE_RANGE_HIP": int(RangeHip), "PRONATE_RANGE_SHOULDER": int(RangeShoulder), "PRONATE_RANGE_WRIST": int(RangeWrist), "PRONATE_RANGE_LIMITS": int(RangeLimits),
	} {
		require.Equal(t, inHeader(t, name), strconv.Itoa(want), name)
	}
}

func TestFeatures(t *testing.T) {
	require.Equal(t, kernel.HasFast(), Features()&FeatureAVX2 != 0)
	require.Zero(t, Features()&^FeatureAVX2)
}

func TestStatus(t *testing.T) {
	require.Equal(t, OK, StatusOf(chain.Outcome{}))
	require.Equal(t, Undefined, StatusOf(chain.Outcome{Undefined: 3}))
	require.Equal(t, NotFinite, StatusOf(chain.Outcome{Undefined: 3, Bad: 1}))
	require.Empty(t, Remark(chain.Outcome{}, 9))
	require.Empty(t, AimRemark(chain.Outcome{}, 9))
	require.Contains(t, Remark(chain.Outcome{Undefined: 3}, 9), "3 of 9 poses have an undefined twist")
	require.Contains(t, Remark(chain.Outcome{Undefined: 3, Bad: 1}, 9), "1 of 9 poses came with NaN or Inf")
	require.Contains(t, AimRemark(chain.Outcome{Undefined: 3}, 9), "3 of 9 frames have no one answer")
	require.Contains(t, AimRemark(chain.Outcome{Bad: 2}, 9), "2 of 9 frames or targets came with NaN or Inf")
	require.Equal(t, OK, StatusOfError(nil))
	require.True(t, IsRemark(RangeOut.errorf("left out")))
	for _, err := range []error{nil, BadSpec.errorf("none"), errors.New("of another package")} {
		require.False(t, IsRemark(err))
	}
	require.Equal(t, Fault, StatusOfError(errors.New("of another package")))
	require.Equal(t, Fault, StatusOfError(FaultOf("index out of range")))
	require.EqualError(t, FaultOf(7), "a fault in the library, please report it: 7")
}

func TestLine(t *testing.T) {
	for text, want := range map[string]string{
		"":                       "",
		"limb\n\x1b[31m\x00":     `limb\n\x1b`,
		"zu kurz für das Wort":   "zu kurz f",
		"12345678\u20ac\u20ac":   "12345678",
		"1234567\u20ac":          "1234567\u20ac",
		"\xff":                   "\ufffd",
		strings.Repeat("\n", 99): `\n\n\n\n\n`,
	} {
		line := Line(text, 10)
		require.True(t, strings.HasPrefix(line, want), "%q of %q", line, text)
		require.LessOrEqual(t, len(line), 10)
		require.True(t, utf8.ValidString(line), line)
	}
}
