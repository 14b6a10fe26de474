package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/help"
	"dryfit/kits"
	"dryfit/kits/english"
)

type helpOptions struct {
	all   string
	force bool
}

func newHelp() *cobra.Command {
	var o helpOptions
	cmd := &cobra.Command{
		Use:   "help [TOPIC | COMMAND]",
		Short: "List topics and commands, or explain one",
		Long: `help prints a topic, the help of a command, or a list of both. Where a topic
has the name of a command, it prints the command first.

--all writes every topic into a folder, one Markdown file each.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("%s takes one TOPIC or COMMAND, not %s", cmd.CommandPath(), english.Count(len(args), "argument"))
			}
			return nil
		},
		ValidArgsFunction: completeHelp,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case o.all != "" && len(args) > 0:
				return fmt.Errorf("--all writes every topic; leave %s out", kits.Plain(args[0]))
			case o.all != "":
				return writeTopics(cmd.OutOrStdout(), o)
			case len(args) == 0:
				return listTopics(cmd.OutOrStdout(), cmd.Root())
			}
			return explainTopic(cmd.OutOrStdout(), cmd.Root(), args[0])
		},
	}
	cmd.Flags().StringVar(&o.all, "all", "", "write every topic into this folder, as Markdown")
	cmd.Flags().BoolVar(&o.force, "force", false, "replace files that dryfit has not written")
	return cmd
}

func completeHelp(cmd *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var list []cobra.Completion
	if len(args) == 0 {
		for _, t := range help.Topics() {
			list = append(list, cobra.CompletionWithDesc(t.Name, t.Title))
		}
		for _, c := range cmd.Root().Commands() {
			list = append(list, cobra.CompletionWithDesc(c.Name(), c.Short))
		}
	}
	return list, cobra.ShellCompDirectiveNoFileComp
}

// listTopics lists what there is to read about.
func listTopics(w io.Writer, root *cobra.Command) error {
	topics, commands := [][]string{}, [][]string{}
	for _, t := range help.Topics() {
		topics = append(topics, []string{t.Name, t.Title})
	}
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			commands = append(commands, []string{c.Name(), c.Short})
		}
	}
	return document.WriteText(w, &document.Document{Chapters: []document.Chapter{{Blocks: []document.Block{
		document.Text("dryfit help TOPIC prints one of these; dryfit help --all FOLDER writes them all as Markdown."),
		document.NewTable([]string{"topic", "what it is about"}, topics...),
		document.Text("dryfit help COMMAND prints the help of a command."),
		document.NewTable([]string{"command", "what it does"}, commands...),
	}}}})
}

// explainTopic prints the help of a command, the topic of a name, or both.
func explainTopic(w io.Writer, root *cobra.Command, name string) error {
	topic, known := help.Find(name)
	for _, c := range root.Commands() {
		if c.Name() != name {
			continue
		}
		c.SetOut(w)
		if err := c.Help(); err != nil || !known {
			return err
		}
		fmt.Fprintln(w)
	}
	if !known {
		return fmt.Errorf("there is no topic or command %q; dryfit help lists them", kits.Plain(name))
	}
	return topic.WriteText(w)
}

// writeTopics writes all topics as files.
func writeTopics(w io.Writer, o helpOptions) error {
	if err := help.Write(o.all, o.force); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "wrote %s to %s\n", english.Count(len(help.Topics()), "topic"), kits.Plain(o.all))
	return err
}
