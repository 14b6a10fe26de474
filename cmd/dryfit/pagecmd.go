package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryfit/graphviz/page"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/plan/project"
)

type pageOptions struct {
	port  int
	out   string
	force bool
}

func newPage() *cobra.Command {
	var o pageOptions
	var cmd *cobra.Command
	cmd = ofKit(&cobra.Command{
		Use:   "page KIT",
		Short: "Show the model in the browser: turn it, walk the build, see what is trapped",
		Long: `page shows the model in 3D in the browser, on this machine only, and prints the address.
It shows any step, what is trapped and by what, last calls, tree and parts. Whenever the
kit file or a mesh is saved, the kit is checked again and the page follows. Stop it with
Ctrl-C.

With --out it writes the page as static files instead, which work from any web host and
from disk.`,
	}, func(kit string) error {
		if o.out != "" {
			return exportPage(cmd, kit, o)
		}
		return servePage(cmd.Context(), cmd.OutOrStdout(), kit, o.port)
	})
	f := cmd.Flags()
	f.IntVar(&o.port, "port", 0, "port to serve on; 0 takes a free one")
	f.StringVarP(&o.out, "out", "o", "", "folder to write static files into")
	f.BoolVar(&o.force, "force", false, "replace files that dryfit has not written")
	return cmd
}

func servePage(ctx context.Context, w io.Writer, path string, port int) error {
	if _, err := os.Stat(path); err != nil {
		return err
	}
	l, err := page.Listen(port)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(w, "http://%s/  (Ctrl-C ends it)\n", l.Addr()); err != nil {
		l.Close()
		return err
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	return page.Serve(ctx, l, path, report.PageMaker(progress.show, progress.warn), project.Options{Measuring: roomy, Memory: allowed.bytes()})
}

func exportPage(cmd *cobra.Command, path string, o pageOptions) error {
	p, err := load(cmd.Context(), path, project.Options{})
	if err != nil {
		return err
	}
	progress := newProgress(os.Stderr)
	n, err := page.Export(cmd.Context(), p, report.PageMaker(progress.show, progress.warn), o.out, o.force, progress.warn)
	progress.done()
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(cmd.OutOrStdout(), "wrote %s: %d files; open %s\n", kits.Plain(o.out), n, kits.Plain(filepath.Join(o.out, "index.html"))); err != nil {
		return err
	}
	return verdict(cmd.ErrOrStderr(), path, p, true)
}
