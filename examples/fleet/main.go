// Fleet splits a library of characters as an Apache Beam pipeline: on this machine
// by default, or on as many as a runner has.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/options/jobopts"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners"

	// File systems: gs:// comes with every runner; s3:// is one line more here,
	// .../io/filesystem/s3.
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem/local"
	// Runners: prism, and universal for everything that has a job service.
	// Dataflow is one line more here, .../runners/dataflow.
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/runners/prism"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/runners/universal"
)

// Exit codes, those of the command line.
const (
	exitFailed = 1
	exitUsage  = 2
)

func main() {
	from := flag.String("from", "", "a folder, which is searched for .glb and .gltf, also further down, or a pattern that ends so: clips/*.glb")
	to := flag.String("to", "", "the folder to write to")
	limbs := flag.String("limbs", "", "limb file that says what to split (default: what is detected in each character)")
	flag.Parse()
	log.LogLevel = "warn"
	beam.Init() // where this is a worker, it works here until the runner ends it
	os.Exit(run(context.Background(), *from, *to, *limbs, os.Stdout, os.Stderr))
}

// run builds the pipeline, has the runner do it, and tells what came of it.
func run(ctx context.Context, from, to, limbs string, stdout, stderr io.Writer) int {
	job, err := newJob(ctx, from, to, limbs)
	if err != nil {
		fmt.Fprintf(stderr, "fleet: %v\n", err)
		return exitUsage
	}
	pipeline, scope := beam.NewPipelineWithRoot()
	job.build(scope)
	runner := *runners.Runner
	if runner == "" {
		runner = "prism"
	}
	if _, err := beam.Run(ctx, runner, pipeline); err != nil {
		fmt.Fprintf(stderr, "fleet: the runner gave up: %v\nthe same command goes on from there\n", err)
		return exitFailed
	}
	if *jobopts.Async {
		fmt.Fprintf(stdout, "submitted; %s will say what came of it\n", job.report())
		return 0
	}
	return tell(ctx, job, stdout, stderr)
}
