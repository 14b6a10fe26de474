package page

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// limit is how long any wait on the browser may take: long, for the machine may be busy
// with other tests.
const limit = 60 * time.Second

// browser starts one browser for all tests.
var browser = sync.OnceValues(func() (context.Context, error) {
	path, err := findBrowser()
	if err != nil {
		return nil, err
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true),
		chromedp.Flag("hide-scrollbars", true))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, quit := chromedp.NewContext(alloc)
	cleanUp = append(cleanUp, func() { quit(); stop() })
	return ctx, chromedp.Do(ctx) // its life is that of this first context
})

func findBrowser() (string, error) {
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); name != "" && err == nil {
			return path, nil
		}
	}
	return "", errors.New("no Chromium was found; the page is NOT tested in a browser (install chromium, or name it in CHROMIUM)")
}

// tab is a page in the browser. What goes wrong in it fails the test at its end.
type tab struct {
	t    testing.TB
	ctx  context.Context
	quit context.CancelFunc

	mu      sync.Mutex
	trouble []string
	expect  []string // trouble that a test wants
	urls    []string // all that was asked for
}

// newTab opens a page of the given size in pixels; dark and calm set these
// preferences.
func newTab(t testing.TB, width, height int64, features ...string) *tab {
	t.Helper()
	if testing.Short() {
		t.Skip("it runs a browser")
	}
	all, err := browser()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip("skipped: ", err)
	}
	ctx, quit := chromedp.NewContext(all)
	t.Cleanup(quit)
	b := &tab{t: t, ctx: ctx, quit: quit}
	b.must(chromedp.Listen(ctx, b.hear))
	var media []*emulation.MediaFeature
	for _, f := range features {
		name, value, _ := strings.Cut(f, "=")
		media = append(media, &emulation.MediaFeature{Name: name, Value: value})
	}
	b.do(chromedp.EmulateViewport(width, height), call(network.Enable, network.EnableParams{}), call(log.Enable, cdp.Empty{}),
		call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: media}))
	return b
}

// close closes the page and says what went wrong in it.
func (b *tab) close() {
	b.quit()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, s := range b.trouble {
		if !b.wanted(s) {
			b.t.Errorf("in the browser: %s", s)
		}
	}
	b.trouble = nil
}

const (
	dark = "prefers-color-scheme=dark"
	calm = "prefers-reduced-motion=reduce"
)

func (b *tab) wanted(s string) bool {
	for _, w := range b.expect {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}

// hear keeps errors of the console, exceptions and requests that failed.
func (b *tab) hear(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.urls = append(b.urls, e.Request.URL)
	case *network.EventLoadingFailed:
		if !e.Canceled {
			b.trouble = append(b.trouble, "a request failed: "+e.ErrorText)
		}
	case *network.EventResponseReceived:
		if e.Response.Status >= 400 {
			b.trouble = append(b.trouble, fmt.Sprintf("%s: %d", e.Response.URL, e.Response.Status))
		}
	case *runtime.EventExceptionThrown:
		b.trouble = append(b.trouble, fmt.Sprintf("exception: %s %+v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception))
	case *runtime.EventConsoleAPICalled:
		for _, a := range e.Args {
			b.trouble = append(b.trouble, fmt.Sprintf("console: %s %s", a.Value, a.Description))
		}
	case *log.EventEntryAdded:
		b.trouble = append(b.trouble, fmt.Sprintf("log: %s %s", e.Entry.Text, e.Entry.URL))
	}
}

func (b *tab) must(err error) {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
}

// do takes actions, each within the limit.
func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	// The first call makes the tab, which lives as long as the context of that call.
	b.must(chromedp.Do(b.ctx))
	for _, a := range actions {
		ctx, stop := context.WithTimeout(b.ctx, limit)
		err := chromedp.Do(ctx, a)
		stop()
		b.must(err)
	}
}

// js is the value of an expression in the page.
func js[T any](b *tab, expression string, args ...any) T {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, limit)
	defer stop()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](fmt.Sprintf(expression, args...), chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// run executes statements in the page.
func (b *tab) run(statements string, args ...any) {
	b.t.Helper()
	js[bool](b, "(async () => {"+statements+"; return true })()", args...)
}

// wait waits until an expression in the page is true.
func (b *tab) wait(what, expression string, args ...any) {
	b.t.Helper()
	for end := time.Now().Add(limit); ; time.Sleep(50 * time.Millisecond) {
		if js[bool](b, "!!("+expression+")", args...) {
			return
		}
		if time.Now().After(end) {
			b.t.Fatalf("%s: it did not come: %s", what, fmt.Sprintf(expression, args...))
		}
	}
}

// want compares the value of an expression.
func want[T comparable](b *tab, wanted T, expression string, args ...any) {
	b.t.Helper()
	if got := js[T](b, expression, args...); got != wanted {
		b.t.Errorf("%s is %v, want %v", fmt.Sprintf(expression, args...), got, wanted)
	}
}

// open goes to an address and waits until the page is there.
func (b *tab) open(url string) {
	b.t.Helper()
	b.t.Cleanup(b.close) // before the server ends
	b.do(chromedp.Navigate(url))
	b.wait("the page", "document.body.dataset.ready")
	b.settle()
}

// settle waits until the model is drawn and rests.
func (b *tab) settle() {
	b.t.Helper()
	b.run("await new Promise(done => setTimeout(() => requestAnimationFrame(() => requestAnimationFrame(done)), 250))")
}

func (b *tab) click(id string) { b.t.Helper(); b.do(chromedp.Click(chromedp.ID(id))) }

func (b *tab) text(id string) string {
	b.t.Helper()
	return js[string](b, "document.getElementById(%q).textContent", id)
}

func (b *tab) screenshot() []byte {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, limit)
	defer stop()
	data, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	b.must(err)
	return data
}

// serve serves a kit until the test ends, and returns the address of its page when the
// kit has been checked.
func serve(t testing.TB, f folder) string {
	t.Helper()
	return serveThis(t, f.server(Maker{}))
}

// serveThis is serve for a server.
func serveThis(t testing.TB, s *server) string {
	t.Helper()
	url, _ := serveWith(t, s)
	for end := time.Now().Add(limit); ; time.Sleep(5 * time.Millisecond) {
		s.state.mu.RLock()
		n := s.state.number
		s.state.mu.RUnlock()
		if n > 0 {
			return url
		}
		if time.Now().After(end) {
			t.Fatal("the kit is still being checked")
		}
	}
}

// serveWith serves, and returns what ends it and waits for the end.
func serveWith(t testing.TB, s *server) (url string, end func() error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.serve(ctx, l) }()
	end = sync.OnceValue(func() error { stop(); return <-done })
	t.Cleanup(func() {
		if err := end(); err != nil {
			t.Error(err)
		}
	})
	return "http://" + l.Addr().String() + "/", end
}

// call is a command of the protocol as an action.
func call[P, R any](c cdp.Command[P, R], p P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, p)
		return err
	})
}
