package printable

import (
	"fmt"
	"html/template"
)

// mountGrey is each sRGB channel of the grey that swatches lie on, --mount of the
// style sheet. A colour within likeMount of it in every channel has no edge there
// that one could see: it gets a line around it and a word.
const (
	mountGrey = 0x95
	likeMount = 20
)

// OnMount says whether a swatch #rrggbb would vanish on its mount.
func OnMount(hex string) bool {
	var rgb [3]int
	if n, _ := fmt.Sscanf(hex, "#%02x%02x%02x", &rgb[0], &rgb[1], &rgb[2]); n < len(rgb) {
		return false
	}
	for _, channel := range rgb {
		if max(channel-mountGrey, mountGrey-channel) > likeMount {
			return false
		}
	}
	return true
}

// edged marks a swatch that wants a line around it.
func edged(hex string) string {
	if OnMount(hex) {
		return " data-near"
	}
	return ""
}

// inlineFill colours an element of a page that stands alone.
func inlineFill(hex string) template.HTMLAttr {
	return template.HTMLAttr(fmt.Sprintf(`style="background:%s"%s`, template.HTMLEscapeString(hex), edged(hex)))
}

// dataFill leaves the colouring to the page's script.
func dataFill(hex string) template.HTMLAttr {
	return template.HTMLAttr(fmt.Sprintf(`data-fill="%s"%s`, template.HTMLEscapeString(hex), edged(hex)))
}
