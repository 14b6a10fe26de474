package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/kits/demo"
)

type demoOptions struct{ force, json bool }

func newDemo() *cobra.Command {
	var o demoOptions
	cmd := &cobra.Command{
		Use:   "demo FOLDER",
		Short: "Write the demonstration kit into a folder",
		Long: `demo writes the demonstration kit, an invented flying boat of 131 printed pieces,
into a folder, which is made if it does not exist. A kit file that you have
changed is not replaced without --force.

` + exitHelp,
		Args: exactly(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return runDemo(cmd.OutOrStdout(), args[0], o)
		},
	}
	cmd.Flags().BoolVar(&o.force, "force", false, "replace a kit file that is there")
	cmd.Flags().BoolVar(&o.json, "json", false, "print JSON")
	return cmd
}

func runDemo(w io.Writer, folder string, o demoOptions) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	file := filepath.Join(folder, kits.FileName)
	never := func([]byte) bool { return false } // a kit file may hold the user's own work
	if err := writeFile(file, demo.Kit, o.force, never); err != nil {
		return err
	}
	if o.json {
		return writeJSON(w, struct {
			Folder string   `json:"folder"`
			Files  []string `json:"files"`
		}{folder, []string{kits.FileName}})
	}
	_, err := fmt.Fprintf(w, "wrote %s; next: dryfit order %s\n", kits.Plain(file), kits.Plain(folder))
	return err
}
