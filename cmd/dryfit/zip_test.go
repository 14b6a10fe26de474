package main

import (
	"archive/zip"
	"io"
	"os"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// wantZip makes an archive of what is in a folder: zip archive.zip folder.
func wantZip(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: zip archive folder")
	}
	f, err := os.Create(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	z := zip.NewWriter(f)
	ts.Check(z.AddFS(os.DirFS(ts.MkAbs(args[1]))))
	ts.Check(z.Close())
}

// wantUnzip writes a file below the one folder of an archive: unzip archive.zip README.txt.
func wantUnzip(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: unzip archive name")
	}
	z, err := zip.OpenReader(ts.MkAbs(args[0]))
	ts.Check(err)
	defer z.Close()
	for _, f := range z.File {
		if _, rest, _ := strings.Cut(f.Name, "/"); rest != args[1] {
			continue
		}
		r, err := f.Open()
		ts.Check(err)
		defer r.Close()
		_, err = io.Copy(ts.Stdout(), r)
		ts.Check(err)
		return
	}
	ts.Fatalf("%s has no %s", args[0], args[1])
}
