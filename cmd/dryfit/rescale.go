package main

import (
	"context"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/stopping"
	"dryfit/plan/project"
	"dryfit/plan/rescale"
)

type rescaleOptions struct {
	output
	sizes bool
	write string
	force bool
}

func newRescale() *cobra.Command {
	var o rescaleOptions
	cmd := &cobra.Command{
		Use:   "rescale KIT SCALE",
		Short: "Find out what breaks at another scale, and write the kit file for it",
		Long: `rescale finds what breaks at another scale, 1:24, or at a percentage of the present
size, 66.7% or "66.7 %". It reports what no longer fits a printer, which walls become too
thin, which magnets, lamps and batteries no longer suit their places, which wires their
holes, how the pieces that move fit, whether the order holds, and mass and time.

Parts with fixed-size: true, wires and the clearance of the kit keep their size.
--write makes the kit file for the new scale: comments, order and spacing stay. The
meshes are not scaled; export them again at the percentage that is shown.

` + exitHelp,
		Args:              exactly(2),
		ValidArgsFunction: completeKit(nil),
		RunE:              func(_ *cobra.Command, args []string) error { return o.run(args[0], args[1]) },
	}
	o.addTo(cmd, document.Formats(false)...)
	f := cmd.Flags()
	f.BoolVar(&o.sizes, "sizes", false, "list every part with its size at both scales as well")
	f.StringVarP(&o.write, "write", "w", "", "write the kit file for the new scale to this file")
	f.BoolVar(&o.force, "force", false, "replace a file that is there")
	return cmd
}

func (o *rescaleOptions) run(path, scale string) error {
	if err := o.check(); err != nil {
		return err
	}
	r, text, err := rescaled(o.cmd.Context(), path, scale)
	if err == nil && o.write != "" {
		err = atomicfile.Write(o.write, text, o.force, atomicfile.Never)
	}
	if err != nil {
		return o.fail(path, err)
	}
	return o.end(report.Rescale(r, o.sizes, o.write).Report, r.OK())
}

// rescaled looks at a kit at both scales, and makes the text of its file at the new one.
func rescaled(ctx context.Context, path, scale string) (*rescale.Report, []byte, error) {
	file, data, err := kits.ReadText(path)
	if err != nil {
		return nil, nil, err
	}
	kit, err := stopping.Soon(ctx, func() (*kits.Kit, error) { return kits.Read(file, data) })
	if err != nil {
		return nil, nil, err
	}
	s, err := kits.ParseScaling(scale, kit.Scale)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", kits.Plain(file), err)
	}
	text, err := stopping.Soon(ctx, func() ([]byte, error) { return kits.Rewrite(file, data, s) })
	if err != nil {
		return nil, nil, err
	}
	scaled, err := stopping.Soon(ctx, func() (*kits.Kit, error) { return kits.ReadScaled(file, data, s) })
	if err != nil {
		return nil, nil, err
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	was, err := project.Of(ctx, kit, progress.options(project.Options{Walls: true}))
	if err != nil {
		return nil, nil, err
	}
	r, err := rescale.Make(ctx, rescale.Request{Was: was, Kit: scaled, Scaling: s, Progress: progress.show})
	return r, text, err
}
