package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"dryfit/cmd/dryfit/notices"
)

func newLicences() *cobra.Command {
	return &cobra.Command{
		Use:   "licences",
		Short: "Print the licences of dryfit and of all that is in it",
		Long: `licences prints the licence of dryfit, and the licence texts and notices of every
module, font and library that is compiled into this program.`,
		Args:              exactly(0),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := io.WriteString(cmd.OutOrStdout(), notices.Text)
			return err
		},
	}
}

func newVersion() *cobra.Command {
	return &cobra.Command{
		Use:               "version",
		Short:             "Print the version, the commit and the Go version of this program",
		Args:              exactly(0),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := io.WriteString(cmd.OutOrStdout(), buildText())
			return err
		},
	}
}

// version is what Go knows of the build.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}

// buildText says which program this is, for one who reports a problem.
func buildText() string {
	text := fmt.Sprintf("dryfit %s\n", version())
	if info, ok := debug.ReadBuildInfo(); ok {
		set := map[string]string{}
		for _, s := range info.Settings {
			set[s.Key] = s.Value
		}
		if commit := set["vcs.revision"]; commit != "" {
			text += fmt.Sprintf("commit %s of %s", commit, set["vcs.time"])
			if set["vcs.modified"] == "true" {
				text += ", with changes"
			}
			text += "\n"
		}
	}
	return text + fmt.Sprintf("%s, %s/%s\n", runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
