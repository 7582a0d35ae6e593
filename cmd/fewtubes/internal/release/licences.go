package main

// licensed says under which licence a module comes (SPDX), as somebody read it, and
// which of its files are the texts where the usual names do not say so.
type licensed struct {
	licence string
	texts   []string // within the module
}

var modules = map[string]licensed{
	"github.com/aymanbagabas/go-osc52/v2": {licence: "MIT"},
	"github.com/cpuguy83/go-md2man/v2":    {licence: "MIT"},
	"github.com/gen2brain/heic":           {licence: "MIT"},
	"github.com/go-air/gini":              {licence: "MIT"},
	"github.com/go-pdf/fpdf":              {licence: "MIT"},
	"github.com/golang/freetype":          {"FTL", []string{"LICENSE", "licenses/ftl.txt"}}, // of two the one chosen
	"github.com/kovidgoyal/go-parallel":   {licence: "BSD-3-Clause"},
	"github.com/kovidgoyal/imaging":       {licence: "MIT"},
	"github.com/lucasb-eyer/go-colorful":  {licence: "MIT"},
	"github.com/mattn/go-isatty":          {licence: "MIT"},
	"github.com/mitchellh/colorstring":    {licence: "MIT"},
	"github.com/muesli/termenv":           {licence: "MIT"},
	"github.com/pelletier/go-toml/v2":     {licence: "MIT"},
	"github.com/rivo/uniseg":              {licence: "MIT"},
	"github.com/russross/blackfriday/v2":  {licence: "BSD-2-Clause"},
	"github.com/rwcarlsen/goexif":         {licence: "BSD-2-Clause"},
	"github.com/schollz/progressbar/v3":   {licence: "MIT"},
	"github.com/tetratelabs/wazero":       {licence: "Apache-2.0"},
	"github.com/urfave/cli/v2":            {licence: "MIT"},
	"github.com/xrash/smetrics":           {licence: "MIT"},
	"golang.org/x/image":                  {licence: "BSD-3-Clause"},
	"golang.org/x/sys":                    {licence: "BSD-3-Clause"},
	"golang.org/x/term":                   {licence: "BSD-3-Clause"},
}

// carried are works that come within a module under a licence of their own.
var carried = []struct {
	name, module, licence string
	text                  string // within the module; "" where this folder has it
	made, version         string // a file of the module and a pattern for the version in it
}{
	{name: "libheif", module: "github.com/gen2brain/heic", licence: "LGPL-3.0-or-later", text: "lib/LICENSE.libheif", made: "lib/Makefile", version: `LIBHEIF_VERSION = (\S+)`},
	{name: "libde265", module: "github.com/gen2brain/heic", licence: "LGPL-3.0-or-later", text: "lib/LICENSE.libde265", made: "lib/Makefile", version: `LIBDE265_VERSION = (\S+)`},
	{name: "wasi-libc", module: "github.com/gen2brain/heic", licence: "MIT AND BSD-2-Clause AND Apache-2.0 WITH LLVM-exception"},
	{name: "Go-fonts", module: "golang.org/x/image", licence: "BSD-3-Clause", text: "font/gofont/ttfs/README"},
}
