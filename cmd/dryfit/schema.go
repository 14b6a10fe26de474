package main

import (
	"github.com/spf13/cobra"

	"dryfit/kits"
)

func newSchema() *cobra.Command {
	var reference bool
	cmd := &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of a kit file",
		Long: `schema prints the JSON Schema (draft 2020-12) of a kit file, for editors that
complete and check YAML. Save it beside the kit, and name it as the schema of the kit
file in the settings of the editor.

dryfit help kit-file explains the keys.

` + exitHelp,
		Args:              exactly(0),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, _ []string) error {
			text := kits.Schema()
			if reference {
				text = []byte(kits.Reference())
			}
			_, err := cmd.OutOrStdout().Write(text)
			return err
		},
	}
	cmd.Flags().BoolVar(&reference, "reference", false, "print the reference of the format in Markdown instead")
	return cmd
}
