package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/options/jobopts"
	"github.com/stretchr/testify/require"
)

// useWorkerProcesses has the runner start this program again as its worker, for
// one test, instead of working in the process that started the pipeline.
func useWorkerProcesses(t *testing.T) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	config, err := json.Marshal(map[string]any{"command": self, "env": map[string]string{workerVariable: "1"}})
	require.NoError(t, err)
	for option, value := range map[*string]string{
		jobopts.EnvironmentType:   "PROCESS",
		jobopts.EnvironmentConfig: string(config),
		jobopts.WorkerBinary:      self, // or one is built
	} {
		old := *option
		t.Cleanup(func() { *option = old })
		*option = value
	}
}

// workerArguments are those of a worker, from the ones that a runner gives to what
// usually stands between them, a container's first program: --id='ID' with quotes,
// and one endpoint, at which Prism serves all there is.
func workerArguments(given []string) []string {
	arguments := []string{given[0], "--worker"}
	for _, argument := range given[1:] {
		if id, is := strings.CutPrefix(argument, "--id="); is {
			arguments = append(arguments, "--id="+strings.Trim(id, "'"))
		}
		if endpoint, is := strings.CutPrefix(argument, "--provision_endpoint="); is {
			arguments = append(arguments, "--control_endpoint="+endpoint, "--logging_endpoint="+endpoint)
		}
	}
	return arguments
}
