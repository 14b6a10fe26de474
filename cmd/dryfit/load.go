package main

import (
	"context"
	"math"
	"os"
	"runtime/debug"

	"dryfit/plan"
	"dryfit/plan/project"
)

// load finds out all that is known of a kit, and shows progress.
func load(ctx context.Context, path string, o project.Options) (*plan.Project, error) {
	p := newProgress(os.Stderr)
	defer p.done()
	return project.Load(ctx, path, p.options(o))
}

// options has what is loaded tell its progress.
func (p *progress) options(o project.Options) project.Options {
	o.Tell, o.Warn, o.Measuring = p.show, p.warn, roomy
	return o
}

// roomy lifts the limit under which small runs keep their memory: meshes need more.
func roomy() {
	debug.SetGCPercent(100)
	debug.SetMemoryLimit(math.MaxInt64)
}
