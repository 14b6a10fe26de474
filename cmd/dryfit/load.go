package main

import (
	"context"
	"os"

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
	o.Tell, o.Warn, o.Measuring, o.Memory = p.show, p.warn, roomy, allowed.bytes()
	return o
}
