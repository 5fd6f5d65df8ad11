package engine

import "github.com/pronate/pronate/internal/kernel"

// The version of the library, which pronate.h repeats.
const (
	Major = 0
	Minor = 1
	Patch = 0
)

// Version is the three in one number.
const Version uint32 = Major<<16 | Minor<<8 | Patch

// FeatureAVX2 tells that batches run on AVX2.
const FeatureAVX2 uint32 = 1

// Features are what this build can do on this processor.
func Features() uint32 {
	if kernel.HasFast() {
		return FeatureAVX2
	}
	return 0
}
