package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/demo"
	"dryfit/kits/mesh/stl"
)

type demoOptions struct{ force, json, bare bool }

func newDemo() *cobra.Command {
	var o demoOptions
	cmd := &cobra.Command{
		Use:   "demo FOLDER",
		Short: "Write the demonstration kit into a folder",
		Long: `demo writes the demonstration kit, an invented flying boat of 131 printed pieces, into
a folder, which is made if it does not exist. It has the kit file and, in ` + demo.MeshFolder + `/, the
meshes of all pieces where they stand in the model. Files that you have changed are
replaced only with --force.

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
	cmd.Flags().BoolVar(&o.bare, "no-meshes", false, "write the kit file alone")
	cmd.Flags().BoolVar(&o.json, "json", false, "print JSON")
	return cmd
}

func runDemo(w io.Writer, folder string, o demoOptions) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	file := filepath.Join(folder, kits.FileName)
	files := []string{kits.FileName}
	text := demo.Kit
	if !o.bare {
		text = demo.KitWithMeshes()
		written, err := writeMeshes(folder, o.force)
		if err != nil {
			return err
		}
		files = append(files, written...)
	}
	if err := atomicfile.Write(file, text, o.force, atomicfile.Never); err != nil {
		return err
	}
	if o.json {
		return document.WriteJSON(w, report.Demo{Folder: folder, Files: files})
	}
	meshes := ""
	if len(files) > 1 {
		meshes = fmt.Sprintf(" and %d meshes", len(files)-1)
	}
	_, err := fmt.Fprintf(w, "wrote %s%s; next: dryfit order %s\n", kits.Plain(file), meshes, kits.Plain(folder))
	return err
}

// writeMeshes writes the meshes of the pieces, one file each, and lists them.
func writeMeshes(folder string, force bool) ([]string, error) {
	if err := os.MkdirAll(filepath.Join(folder, demo.MeshFolder), 0o755); err != nil {
		return nil, err
	}
	var files []string
	for _, p := range demo.Meshes() {
		var b bytes.Buffer
		if err := stl.Write(&b, p.Triangles); err != nil {
			return nil, err
		}
		name := filepath.Join(demo.MeshFolder, p.ID+".stl")
		if err := atomicfile.Write(filepath.Join(folder, name), b.Bytes(), force, atomicfile.Never); err != nil {
			return nil, err
		}
		files = append(files, filepath.ToSlash(name))
	}
	return files, nil
}
