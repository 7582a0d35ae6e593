package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os/exec"
	"path/filepath"
	"runtime"

	"fewtubes/cmd/fewtubes/internal/kept"
	"fewtubes/cmd/fewtubes/internal/page"

	"github.com/urfave/cli/v2"
)

// usualPort is where the page is found again tomorrow: none that IANA's registry
// gives to a service, and below those that systems lend (RFC 6335, section 6).
const usualPort = 23873

// mostPorts are tried where it is taken.
const mostPorts = 10

func serveCommand() *cli.Command {
	return &cli.Command{
		Name:  "serve",
		Usage: "the whole job as a page in the browser, on this machine alone",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "addr", Usage: "start a page of its own at `HOST:PORT`; port 0 takes a free one", DefaultText: fmt.Sprintf("127.0.0.1:%d", usualPort)},
			&cli.BoolFlag{Name: "no-open", Usage: "do not open the browser", DisableDefaultText: true},
			&cli.StringFlag{Name: "scenes", Usage: "keep scenes, photographs and the box in the folder `DIR`", DefaultText: "fewtubes in the system's folder for data"},
			ownFlag(),
		},
		Action: serve,
	}
}

func serve(c *cli.Context) error {
	if c.NArg() > 0 {
		return userError("serve: %q is not a flag; scenes and photographs are opened on the page", c.Args().First())
	}
	tubes, err := stock(c)
	if err != nil {
		return err
	}
	var at *place
	if c.IsSet("addr") {
		if at, err = listen(c.Context, c.String("addr")); err != nil {
			return err
		}
		defer at.Close()
	}
	scenes, err := openScenes(c.String("scenes"))
	if err != nil {
		return err
	}
	key, err := scenes.Key()
	if err != nil {
		return scenesTrouble(scenes.Dir(), err)
	}
	if at == nil {
		if addr := scenes.Running(); page.Runs(c.Context, addr, key) {
			fmt.Fprintln(c.App.ErrWriter, "fewtubes: the program runs already; this opens its page")
			return showPage(c, "http://"+addr+page.Ticket(key), "http://"+addr+page.Ticket(key))
		}
		if at, err = listenNear(c); err != nil {
			return err
		}
		defer at.Close()
		done, err := scenes.Runs(at.Addr().String())
		if err != nil {
			return scenesTrouble(scenes.Dir(), err)
		}
		defer done()
	}
	server := page.New(tubes, at.host, scenes)
	server.KeepBox(filepath.Join(scenes.Dir(), "box.toml"))
	url := "http://" + at.Addr().String()
	if err := showPage(c, url+server.Lock(key, at.port), url+page.Ticket(key)); err != nil {
		return err // nobody would find the page
	}
	return server.Serve(c.Context, at.Listener)
}

// place is where the page is listened for.
type place struct {
	net.Listener
	host string // as it was written
	port string // as it came out
}

// showPage prints a link and opens another in the browser.
func showPage(c *cli.Context, printed, opened string) error {
	if _, err := fmt.Fprintln(c.App.Writer, printed); err != nil {
		return err
	}
	if !c.Bool("no-open") {
		openBrowser(opened)
	}
	return nil
}

// listenNear listens at the usual port, or at the next free one.
func listenNear(c *cli.Context) (*place, error) {
	for port := usualPort; port < usualPort+mostPorts; port++ {
		at, err := listen(c.Context, fmt.Sprintf("127.0.0.1:%d", port))
		if err != nil {
			continue
		}
		if port != usualPort {
			fmt.Fprintf(c.App.ErrWriter, "fewtubes: port %d is taken by another program; the page is at port %d\n", usualPort, port)
		}
		return at, nil
	}
	return nil, userError("the ports %d to %d are taken; name another: --addr 127.0.0.1:0", usualPort, usualPort+mostPorts-1)
}

// openScenes opens the folder where scenes are kept, or that of the system.
func openScenes(dir string) (scenes *kept.Store, err error) {
	if dir == "" {
		if dir, err = kept.Place(); err != nil {
			return nil, userError("the system names no folder to keep scenes in (%w); name one: --scenes DIR", err)
		}
	}
	scenes, err = kept.Open(dir, page.Form)
	return scenes, scenesTrouble(dir, err)
}

// scenesTrouble says why nothing can be kept in a folder.
func scenesTrouble(dir string, err error) error {
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		return userError("scenes cannot be kept in %s: %w; name another folder: --scenes DIR", dir, trouble.Err)
	}
	return err
}

// listen opens an address. Names and zones hide an address of every network, so what came of them is looked at, too.
func listen(ctx context.Context, addr string) (*place, error) {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, userError("--addr %s is no address; write HOST:PORT, such as 127.0.0.1:8080", addr)
	}
	everywhere := userError("--addr %s: that would listen to every network; name one address, such as 127.0.0.1:0", addr)
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		return nil, everywhere
	}
	l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", addr)
	if err != nil {
		return nil, userError("--addr %s: it cannot be listened at (%w); choose another port, or 0 for a free one", addr, err)
	}
	if at, ok := l.Addr().(*net.TCPAddr); ok && at.IP.IsUnspecified() {
		_ = l.Close()
		return nil, everywhere
	}
	_, port, err := net.SplitHostPort(l.Addr().String())
	return &place{l, host, port}, err
}

// openBrowser asks the system to show the page; where it cannot, the address
// has been printed.
func openBrowser(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	if cmd := exec.Command(name, args...); cmd.Start() == nil {
		go func() { _ = cmd.Wait() }()
	}
}
