package progress_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/progress"
)

const (
	writers      = 20 // processes
	marksOfEach  = 10
	writerKit    = "kit: Many\nparts:\n  base: {}\n  pin: {quantity: 200}\njoins:\n  - {fit: pin, to: base}\n"
	writerNumber = "DRYFIT_TEST_WRITER"
	writerFile   = "DRYFIT_TEST_FILE"
)

// Twenty processes record ten marks each at once, and tick an item of a last call after
// each: the file has all of them.
func TestManyProcesses(t *testing.T) {
	file := filepath.Join(t.TempDir(), "kit.progress.yaml")
	var all []*exec.Cmd
	for i := range writers {
		cmd := exec.Command(os.Args[0], "-test.run=^TestWriter$")
		cmd.Env = append(os.Environ(), writerNumber+"="+strconv.Itoa(i), writerFile+"="+file)
		out := new(bytes.Buffer)
		cmd.Stdout, cmd.Stderr = out, out
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		all = append(all, cmd)
	}
	for _, cmd := range all {
		if err := cmd.Wait(); err != nil {
			t.Errorf("%v\n%s", err, cmd.Stdout)
		}
	}
	f, err := progress.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	k := kitstest.Read(t, writerKit)
	lost := 0
	p := f.Of(k)
	for i := range writers * marksOfEach {
		if p.Pieces[k.PiecesNamed(pin(i))[0]]&progress.Printed == 0 || !f.IsTicked(tickOf(i).String()) {
			lost++
		}
	}
	if lost > 0 {
		t.Errorf("%d of %d marks are lost", lost, writers*marksOfEach)
	}
	if f.EditedByHand() {
		t.Error("the checksum does not fit")
	}
}

// TestWriter is one of the processes of [TestManyProcesses].
func TestWriter(t *testing.T) {
	file := os.Getenv(writerFile)
	if file == "" {
		t.Skip("run by another test")
	}
	number, err := strconv.Atoi(os.Getenv(writerNumber))
	if err != nil {
		t.Fatal(err)
	}
	k := kitstest.Read(t, writerKit)
	for i := number * marksOfEach; i < (number+1)*marksOfEach; i++ {
		record(t, file, k, pin(i))
		if err := progress.Update(file, func(f *progress.File) (*progress.File, error) { return f.Tick(k, tickOf(i), true) }); err != nil {
			t.Fatal(err)
		}
	}
}

func pin(i int) string { return fmt.Sprintf("pin.%d", i+1) }

func tickOf(i int) progress.Tick {
	return progress.Tick{Step: "step", Kind: progress.TickFit, What: pin(i)}
}

// record marks a piece as printed, on disk.
func record(t *testing.T, file string, k *kits.Kit, piece string) {
	t.Helper()
	m, errs := progress.Find(k, "printed", []string{piece})
	if errs != nil {
		t.Fatal(errs)
	}
	if err := progress.Update(file, func(f *progress.File) (*progress.File, error) { return f.Mark(k, m) }); err != nil {
		t.Fatal(err)
	}
}

// Wherever a file is cut off, that is noticed, with and without the copy of it. What is
// named as the last whole file is that.
func TestCutOff(t *testing.T) {
	file := filepath.Join(t.TempDir(), "kit.progress.yaml")
	k := kit(t)
	record(t, file, k, "lamp")
	record(t, file, k, "seat.2")
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := os.ReadFile(file + ".bak")
	if err != nil || !bytes.Equal(kept, whole) {
		t.Fatalf("the copy differs: %q, %v", kept, err)
	}
	promised := bytes.Index(whole, []byte("an edit by hand"))
	for _, withCopy := range []bool{true, false} {
		if !withCopy {
			if err := os.Remove(file + ".bak"); err != nil {
				t.Fatal(err)
			}
		}
		for n := range len(whole) - 1 { // without the last line feed it is whole
			if n < promised && !withCopy {
				continue
			}
			if err := os.WriteFile(file, whole[:n], 0o600); err != nil {
				t.Fatal(err)
			}
			_, err := progress.ReadFile(file)
			if err == nil || !strings.Contains(err.Error(), "is cut off") || strings.Contains(err.Error(), file+".bak") != withCopy {
				t.Fatalf("cut off after %d of %d bytes, with a copy %v: %v", n, len(whole), withCopy, err)
			}
		}
	}
}

// A file edited by hand is read as it is, whatever its end line says, and it is known that
// it was.
func TestEditedByHand(t *testing.T) {
	file := filepath.Join(t.TempDir(), "kit.progress.yaml")
	k := kit(t)
	record(t, file, k, "lamp")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	whole := string(data)
	end := whole[strings.Index(whole, "# end of file"):]
	for _, c := range []struct {
		name, text string
		told       bool
	}{
		{"as written", whole, false},
		{"line ends of Windows", strings.ReplaceAll(whole, "\n", "\r\n"), false},
		{"changed", strings.Replace(whole, "lamp: printed", "seat: printed", 1), true},
		{"added below", whole + "done: [lead]\n", true},
		{"changed, without the end line", strings.Replace(strings.Replace(whole, "lamp: printed", "seat: printed", 1), end, "", 1), false},
		{"written by hand", "pieces: {lamp: printed}\n", false},
	} {
		if err := os.WriteFile(file, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		f, err := progress.ReadFile(file)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if f.EditedByHand() != c.told {
			t.Errorf("%s: edited by hand is %v", c.name, f.EditedByHand())
		}
		record(t, file, k, "hull-left")
		f, err = progress.ReadFile(file)
		if err != nil || f.EditedByHand() || !strings.Contains(told(k, f), "hull-left: printed") {
			t.Errorf("%s: after the next mark %v", c.name, err)
		}
		if text, err := os.ReadFile(file); err != nil || strings.Count(string(text), "# end of file") != 1 {
			t.Errorf("%s: after the next mark %v\n%s", c.name, err, text)
		}
	}
}

// A change that is refused writes nothing, and neither does one that changes nothing.
func TestUpdateLeavesAlone(t *testing.T) {
	file := filepath.Join(t.TempDir(), "kit.progress.yaml")
	refused := errors.New("refused")
	for _, change := range []func(*progress.File) (*progress.File, error){
		func(*progress.File) (*progress.File, error) { return nil, refused },
		func(f *progress.File) (*progress.File, error) { return f, nil },
	} {
		if err := progress.Update(file, change); err != nil && !errors.Is(err, refused) {
			t.Error(err)
		}
		if _, err := os.Lstat(file); err == nil {
			t.Error("a file was written")
		}
	}
}
