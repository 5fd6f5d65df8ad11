package main

import (
	"os"
	"runtime"
	"strings"
)

// machine names the processor and what the programs were built with.
type machine struct {
	Processor string   `json:"processor"`
	Go        string   `json:"go"`
	Peers     []string `json:"peers"`
}

func (m machine) String() string {
	return m.Processor + "\n" + strings.Join(append([]string{m.Go}, m.Peers...), "; ")
}

func thisMachine(versions []string) machine {
	model := runtime.GOARCH
	// Only Linux tells; elsewhere the architecture has to do.
	if info, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		for line := range strings.Lines(string(info)) {
			if key, value, _ := strings.Cut(line, ":"); strings.TrimSpace(key) == "model name" {
				model = strings.TrimSpace(value) + ", " + runtime.GOARCH
				break
			}
		}
	}
	return machine{model, runtime.Version(), versions}
}
