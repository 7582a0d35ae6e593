package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"runtime"
	"time"

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
	host, _, err := net.SplitHostPort(c.String("addr"))
	if err != nil {
		return userError("--addr %s: write HOST:PORT, such as 127.0.0.1:8080", c.String("addr"))
	}
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		return userError("--addr %s: that would listen to every network; name one address, such as 127.0.0.1:0", c.String("addr"))
	}
	listener, err := (&net.ListenConfig{}).Listen(c.Context, "tcp", c.String("addr"))
	if err != nil {
		return userError("--addr %s: %w; choose another port, or 0 for a free one", c.String("addr"), err)
	}
	server := page.New(tubes, host).HTTP()
	address := "http://" + listener.Addr().String() + "/"
	if _, err := fmt.Fprintln(c.App.Writer, address); err != nil {
		return errors.Join(err, listener.Close()) // nobody would find the page
	}
	if !c.Bool("no-open") {
		openBrowser(address)
	}
	return serveUntil(c.Context, server, listener)
}

// serveUntil ends cleanly when the context does: running answers are cut short.
func serveUntil(ctx context.Context, server *http.Server, listener net.Listener) error {
	server.BaseContext = func(net.Listener) context.Context { return ctx }
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		_ = server.Close()
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
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
