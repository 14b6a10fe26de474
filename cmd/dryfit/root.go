package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/kits/english"
)

const exitHelp = `Exit status: 0 all is well, 1 the kit has faults to fix, 2 the command could not
do its work.`

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "dryfit",
		Short: "A dry fit on the computer: can every piece of a kit reach its seat?",
		Long: `dryfit reads a model kit, proves that every piece can reach its seat when its
turn comes, and writes the build sequence; or it says which pieces cannot, why,
and what to change.

KIT is a kit file or the folder that holds ` + kits.FileName + `. A kit with faults is shown as
far as it can be, and the faults are counted on standard error. Topics such as the kit
file, the method and JSON are listed by dryfit help.

` + exitHelp,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		Version:       version(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			cmd.SetOut(os.Stderr)
			_ = cmd.Help()
			return fmt.Errorf("missing command; see dryfit --help")
		},
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return fmt.Errorf("%w; see %s --help", err, cmd.CommandPath())
	})
	root.PersistentFlags().Var(&allowed, "memory", "memory that measuring meshes may take; what needs more is refused (default: half of the machine's)")
	root.AddCommand(newCheck(), newOrder(), newWhy(), newTree(), newTime(), newBooklet(), newParts(), newTotals(), newMeasure(), newPage(),
		newPrinting(), newRescale(), newBalance(), newLights(), newMagnets(), newNext(), newMark(), newCompare(), newRelease(), newRehearse(), newDemo(), newSchema(), newLicences(), newVersion())
	root.SetHelpCommand(newHelp())
	completions(root)
	return root
}

// completions makes an unknown shell an error: left alone, the command shows its help and
// ends as if all were well.
func completions(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() == "completion" {
			c.Short = "Print the script that completes commands and flags in a shell"
			c.Long = "completion prints a script for one shell. Load it where that shell starts up, and the\ntab key completes commands, flags and kits."
			c.Args = cobra.NoArgs
			c.RunE = func(*cobra.Command, []string) error {
				return fmt.Errorf("missing shell; see dryfit completion --help")
			}
			for _, shell := range c.Commands() {
				shell.Short = "Print the script for " + shell.Name()
				shell.Long = "completion " + shell.Name() + " prints the script for " + shell.Name() + ". To load it each time, put this line where that\nshell starts up:\n\n  " + loadCompletion[shell.Name()]
			}
		}
	}
}

// loadCompletion is the line by which each shell loads its script.
var loadCompletion = map[string]string{
	"bash":       "source <(dryfit completion bash)",
	"zsh":        "source <(dryfit completion zsh)",
	"fish":       "dryfit completion fish | source",
	"powershell": "dryfit completion powershell | Out-String | Invoke-Expression",
}

// ofKit completes a command that takes one kit.
func ofKit(cmd *cobra.Command, run func(kit string) error) *cobra.Command {
	cmd.Long += "\n\n" + exitHelp
	cmd.Args, cmd.ValidArgsFunction = exactly(1), completeKit(nil)
	cmd.RunE = func(_ *cobra.Command, args []string) error { return run(args[0]) }
	return cmd
}

// exactly asks for n arguments and says how they are called.
func exactly(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			return fmt.Errorf("%s takes %s, not %s", cmd.CommandPath(),
				strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(cmd.Use, cmd.Name()), "[flags]")), english.Count(len(args), "argument"))
		}
		return nil
	}
}

// completeKit completes the kit argument with folders and YAML files, and what may
// follow it with next.
func completeKit(next func(kit string) []cobra.Completion) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
		switch {
		case len(args) == 0:
			return []cobra.Completion{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		case len(args) == 1 && next != nil:
			return next(args[0]), cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}
