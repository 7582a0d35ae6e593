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

func serveCommand() *cli.Command {
	return &cli.Command{
		Name:  "serve",
		Usage: "the whole job as a page in the browser, on this machine alone",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "addr", Value: "127.0.0.1:0", Usage: "listen on `HOST:PORT`; port 0 takes a free one"},
			&cli.BoolFlag{Name: "no-open", Usage: "do not open the browser", DisableDefaultText: true},
			&cli.StringFlag{Name: "scenes", Usage: "keep the scenes in the folder `DIR`", DefaultText: "in the system's folder for data"},
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
	scenes, err := openScenes(c.String("scenes"))
	if err != nil {
		return err
	}
	listener, host, err := listen(c.Context, c.String("addr"))
	if err != nil {
		return err
	}
	server := page.New(tubes, host, scenes)
	server.KeepBox(filepath.Join(scenes.Dir(), "box.toml"))
	address := "http://" + listener.Addr().String() + "/"
	if _, err := fmt.Fprintln(c.App.Writer, address); err != nil {
		return errors.Join(err, listener.Close()) // nobody would find the page
	}
	if !c.Bool("no-open") {
		openBrowser(address)
	}
	return server.Serve(c.Context, listener)
}

// openScenes opens the folder where scenes are kept, or that of the system.
func openScenes(dir string) (scenes *kept.Store, err error) {
	if dir == "" {
		if dir, err = kept.Place(); err != nil {
			return nil, userError("the system names no folder to keep scenes in (%w); name one: --scenes DIR", err)
		}
	}
	scenes, err = kept.Open(dir, page.Form)
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		err = userError("scenes cannot be kept in %s: %w; name another folder: --scenes DIR", dir, trouble.Err)
	}
	return scenes, err
}

// listen opens the address and returns its host as it was written. Names and
// zones hide an address of every network, so what came of them is looked at, too.
func listen(ctx context.Context, addr string) (net.Listener, string, error) {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, "", userError("--addr %s is no address; write HOST:PORT, such as 127.0.0.1:8080", addr)
	}
	everywhere := userError("--addr %s: that would listen to every network; name one address, such as 127.0.0.1:0", addr)
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		return nil, "", everywhere
	}
	l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", addr)
	if err != nil {
		return nil, "", userError("--addr %s: it cannot be listened at (%w); choose another port, or 0 for a free one", addr, err)
	}
	if at, ok := l.Addr().(*net.TCPAddr); ok && at.IP.IsUnspecified() {
		_ = l.Close()
		return nil, "", everywhere
	}
	return l, host, nil
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
