package recession

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/air"
)

// Text says which air the law reckons with and where the planes lie in it.
func (l *Law) Text(s *scene.Scene, style terminal.Style) string {
	where := fmt.Sprintf("as written, %s", scene.Spell(l.Airlight))
	if l.From != "" {
		where = fmt.Sprintf("that of %s, %s", l.From, scene.Spell(l.Airlight))
	}
	b := l.Air.At550()
	text := style.Paragraph(fmt.Sprintf("The air: one sees %s far. Its extinction is %s per km at 550 nm, %s of it that of clean air (%s deciview). Its light is %s.",
		kilometres(l.Air.Range), shown.Digits(b, 3), shown.Digits(air.Molecular, 3), shown.Digits(air.Deciview(b), 0), where))
	var planes []string
	for _, name := range scene.Planes {
		if km, ok := s.PlaneKM(name); ok {
			planes = append(planes, fmt.Sprintf("%s %s", name, kilometres(km)))
			if km > l.Air.Range {
				planes[len(planes)-1] += ", beyond what one sees"
			}
		}
	}
	text += style.Paragraph("The planes lie at: " + strings.Join(planes, "; ") + ".")
	if l.Hue == air.Perceived {
		return text + style.Paragraph("Hues are as seen: the eye looks through haze, so that a hue holds while its chroma falls (Henry and others 2000). --hue measured turns what is far to the colour of the air instead.")
	}
	return text + style.Paragraph("Hues are as measured: what is far turns to the colour of the air (Koschmieder 1924, Middleton 1952; of blue hills, Lynch and Mazuk 2005). --hue seen keeps them while chroma falls, as the eye does (Henry and others 2000).")
}

// kilometres is a distance as one speaks of it.
func kilometres(km float64) string {
	switch {
	case km == 0:
		return "0 km"
	case km < 0.95:
		return shown.Digits(math.Round(km*100)*10, 0) + " m"
	case km < 10 && math.Abs(km-math.Round(km)) >= 0.05:
		return shown.Digits(km, 1) + " km"
	}
	return shown.Digits(km, 0) + " km"
}

// JudgedText says which colours stand before their planes, or behind them.
func JudgedText(found []Verdict, style terminal.Style) string {
	if len(found) == 0 {
		return style.Paragraph("Every colour can stand where its plane lies.")
	}
	var b strings.Builder
	for _, v := range found {
		b.WriteString(style.Paragraph(v.sentence()))
	}
	return b.String()
}

func (v *Verdict) sentence() string {
	t := v.Target
	is, law := t.Lab.LCh(), v.Law.LCh()
	look := fmt.Sprintf("value %s, chroma %s", shown.Value(is.L), shown.Digits(is.C, 0))
	has := fmt.Sprintf("value %s, chroma %s (ΔE00 %s)", shown.Value(law.L), shown.Digits(law.C, 0), shown.Digits(v.DE, 1))
	if v.Moves() {
		word := "before"
		if v.SeenKM > v.PlaneKM {
			word = "behind"
		}
		apart := max(v.SeenKM-v.PlaneKM, v.PlaneKM-v.SeenKM)
		return fmt.Sprintf("%s (%s) stands %s %s its plane: it was seen at %s, and %s lies at %s. The air makes it %s.",
			t.Name, look, kilometres(apart), word, kilometres(v.SeenKM), the(t.Plane), kilometres(v.PlaneKM), has)
	}
	return fmt.Sprintf("%s (%s) stands %s before its plane: nothing of that colour is seen farther off than %s, and %s lies at %s. The nearest that is seen there is %s.",
		t.Name, look, kilometres(v.PlaneKM-v.Farthest), kilometres(v.Farthest), the(t.Plane), kilometres(v.PlaneKM), has)
}

// the names a plane within a sentence.
func the(plane string) string {
	if plane == "middle" {
		return "the middle plane"
	}
	return "the " + plane
}
