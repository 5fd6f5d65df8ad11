package asset

import (
	"os"
	"testing"
)

func BenchmarkZZ(b *testing.B) {
	data, _ := os.ReadFile(os.Getenv("ZZ"))
	for b.Loop() {
		f, err := Decode("x.glb", data, nil)
		if err != nil {
			b.Fatal(err)
		}
		Split(f, Options{AsAsked: os.Getenv("ASKED") != ""})
	}
}
