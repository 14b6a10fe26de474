package project

import (
	"context"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/progress"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/explain"
	"dryfit/plan/hardware"
	"dryfit/plan/printing"
	"dryfit/plan/rehearse"
)

// Options control how a project is loaded.
type Options struct {
	Pitch    float64 // mm between sample lines; 0 for the default
	Fit      float64 // mm of gap up to which pieces are neighbours; 0 for the default, or what the kit says
	Unit     float64 // mm for one unit of mesh files that state none; 0 means 1
	Fresh    bool    // measure everything again, without the cache
	Walls    bool    // measure how thick the walls of the meshes are
	Progress bool    // read the progress file too
	Memory   int64   // bytes that measuring may take; 0 for no limit
	// Require, if not nil, checks before the slow work that the kit states
	// enough.
	Require func(*kits.Kit) error
	// Measuring, if not nil, is called before meshes are read, which takes memory.
	Measuring func()
	// Warn, if not nil, gets warnings about the work itself, such as a damaged cache.
	Warn func(text string)
	// Read, if not nil, gets the meshes of the pieces before they are measured.
	Read func([]*mesh.Mesh)
	// Tell, if not nil, is called with the progress: the task and the fraction of
	// it done, 0 to 1.
	Tell func(what string, share float64)
}

func (o Options) tell(what string, share float64) {
	if o.Tell != nil {
		o.Tell(what, share)
	}
}

func (o Options) warn(text string) {
	if o.Warn != nil && text != "" {
		o.Warn(text)
	}
}

// Load reads a kit, a file or the folder that holds one, with its meshes and
// cached measurements, and checks it. It is the only loader: every command and
// page starts from here, so that all give the same verdict. For a wrong kit file
// the error is [kits.Faults].
func Load(ctx context.Context, path string, o Options) (*plan.Project, error) {
	k, err := stopping.Soon(ctx, func() (*kits.Kit, error) { return kits.ReadFile(path) })
	if err != nil {
		return nil, err
	}
	return Of(ctx, k, o)
}

// Of is Load for a kit that was already read.
func Of(ctx context.Context, k *kits.Kit, o Options) (*plan.Project, error) {
	if o.Require != nil {
		if err := o.Require(k); err != nil {
			return nil, err
		}
	}
	// What is cached is read without a look at ctx.
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var p *plan.Project
	var err error
	if k.Meshes == "" {
		p, err = stopping.Soon(ctx, func() (*plan.Project, error) { return confirmed(explain.Check(k)) })
	} else {
		p, err = confirmed(measured(ctx, k, o))
	}
	if err != nil {
		return nil, err
	}
	if o.Progress {
		if p.Progress, err = progress.ReadFile(progress.Path(k.File)); err != nil {
			return nil, err
		}
		if p.Progress.EditedByHand() {
			o.warn(EditedByHand(p.Progress.Name))
		}
	}
	unprintable, err := printing.Unprintable(ctx, p)
	if err != nil {
		return nil, err
	}
	found, err := stopping.Soon(ctx, func() ([]plan.Finding, error) { return hardware.Findings(p), nil })
	if err != nil {
		return nil, err
	}
	p.Add(append(found, unprintable...)...)
	return p, nil
}

// confirmed replays the order of a project.
func confirmed(p *plan.Project, err error) (*plan.Project, error) {
	if err == nil {
		rehearse.Confirm(p)
	}
	return p, err
}

// EditedByHand warns that a progress file is used although its checksum is out of
// date.
func EditedByHand(name string) string {
	return kits.Plain(name) + " was edited by hand since dryfit wrote it; it is used as it is"
}
