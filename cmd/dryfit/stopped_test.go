package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"dryfit/kits/kitstest"
)

// Every command ends when it is asked to, at any moment of its work on a large kit, and
// leaves no file that is half-written. The commands and the flags with which they write
// files are taken from the command tree, so that a new one is among them.
func TestEveryCommandStops(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a program cannot send an interrupt there")
	}
	dir := t.TempDir()
	large := kitstest.Large(kitstest.Rounds(t, 2000, 1000), 1)
	sequence := "left\np0\n"
	for name, text := range map[string]string{"kit.yaml": large, "sequence.txt": sequence} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	random, latest := rand.New(rand.NewPCG(5, 6)), int64(kitstest.Rounds(t, 400, 250))
	var slowest time.Duration
	runs, stopped := 0, 0
	for range kitstest.Rounds(t, 2, 1) {
		for _, args := range everyCommand(t) {
			took, was := stop(t, dir, args, time.Duration(random.Int64N(latest))*time.Millisecond)
			runs++
			if was {
				stopped++
				slowest = max(slowest, took)
			}
		}
	}
	t.Logf("%d of %d runs were stopped; the slowest took %v", stopped, runs, slowest)
	if stopped == 0 {
		t.Error("none was stopped while it worked")
	}
}

// stop runs a command, interrupts it and checks what it leaves. It returns how long it took
// to end, and whether it was stopped and not done.
func stop(t *testing.T, dir string, args []string, after time.Duration) (time.Duration, bool) {
	t.Helper()
	cmd := exec.Command("dryfit", args...)
	var messages bytes.Buffer
	cmd.Dir, cmd.Stderr = dir, &messages
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	select {
	case <-ended:
		ended <- nil
	case <-time.After(after):
	}
	began := time.Now()
	_ = cmd.Process.Signal(os.Interrupt) // it may have ended
	select {
	case <-ended:
	case <-time.After(time.Minute):
		_ = cmd.Process.Kill()
		t.Fatalf("%q does not end", args)
	}
	took := time.Since(began)
	said := messages.String()
	if code := cmd.ProcessState.ExitCode(); code < 0 && !strings.Contains(cmd.ProcessState.String(), "interrupt") || code > exitFailed || strings.Contains(said, "goroutine ") {
		t.Errorf("%q after %v: %v\n%s", args, after, cmd.ProcessState, said)
	}
	for name, data := range contents(t, dir) {
		if name == "kit.yaml" || name == "sequence.txt" {
			continue
		}
		if !strings.HasPrefix(filepath.Base(name), ".dryfit-") && !ends(name, data) {
			t.Errorf("%q after %v: %s is half-written", args, after, name)
		}
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	return took, strings.Contains(said, "dryfit: stopped")
}

// ends reports whether a file is there up to its end.
func ends(name string, data []byte) bool {
	last := func(text string) bool { return bytes.HasSuffix(bytes.TrimSpace(data), []byte(text)) }
	switch filepath.Ext(name) {
	case ".html":
		return last("</html>")
	case ".svg":
		return last("</svg>")
	case ".pdf":
		return last("%%EOF")
	case ".zip", ".3mf":
		_, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		return err == nil
	case ".stl":
		return len(data) >= 84 && len(data) == 84+50*int(binary.LittleEndian.Uint32(data[80:]))
	}
	return last("") && (len(data) == 0 || data[len(data)-1] == '\n') || strings.HasSuffix(name, ".lock")
}

// placeholders are what the words for arguments in the usage of a command stand for here.
var placeholders = map[string]string{
	"KIT": "kit.yaml", "OLD": "kit.yaml", "NEW": "kit.yaml", "FOLDER|FILE|KIT": "kit.yaml", "FOLDER": "folder",
	"PIECE": "p1", "NAME": "p1", "STATE": "printed", "SEQUENCE": "sequence.txt", "SCALE": "1:24", "...": "",
}

// writes are the flags that name what is written, and what is written there.
var writes = map[string][]string{
	"tree --out": {"out.svg"}, "booklet --out": {"out.html", "out.pdf"}, "page --out": {"site"}, "printing --out": {"plates"},
	"printing --coupon": {"coupon.3mf"}, "release --out": {"out.zip"}, "release --since": {"kit.yaml"}, "rescale --write": {"other.yaml"}, "rehearse --write": {"other.txt"},
	"time --chart": {"chart.svg"}, "measure --draft": {"draft.yaml"},
}

// everyCommand lists the arguments of all commands, and again with each flag that names a
// file or a folder.
func everyCommand(t *testing.T) (list [][]string) {
	t.Helper()
	for _, c := range newRoot().Commands() {
		if !c.HasParent() || c.Hidden || c.HasSubCommands() {
			continue
		}
		args := []string{c.Name()}
		for _, word := range strings.Fields(strings.TrimPrefix(strings.TrimSuffix(c.Use, "[flags]"), c.Name())) {
			switch value, known := placeholders[word]; {
			case strings.HasPrefix(word, "[") || strings.HasSuffix(word, "]") || word == "|":
			case !known:
				t.Errorf("dryfit %s: nothing is known to stand for %s here", c.Name(), word)
			case value != "":
				args = append(args, value)
			}
		}
		if c.Name() != "page" { // without --out it serves until it is stopped; see TestPageCommand
			list = append(list, args)
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			for _, name := range files(t, c, f) {
				list = append(list, append(args[:len(args):len(args)], fmt.Sprintf("--%s=%s", f.Name, name)))
			}
		})
	}
	return list
}

// files are what to give a flag that names a file. All flags of text that do not are known.
func files(t *testing.T, c *cobra.Command, f *pflag.Flag) []string {
	t.Helper()
	list, known := writes[c.Name()+" --"+f.Name]
	plain := []string{"format", "aim", "language", "series", "units", "result", "note", "date", "printer"}
	if (f.Value.Type() == "string" || f.Value.Type() == "stringArray") && !known && !strings.Contains(" "+strings.Join(plain, " ")+" ", " "+f.Name+" ") {
		t.Errorf("dryfit %s: nothing is known to give --%s here", c.Name(), f.Name)
	}
	return list
}
