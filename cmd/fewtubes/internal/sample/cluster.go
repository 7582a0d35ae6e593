package sample

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"fewtubes/gamut/portable"
)

// group is a set of points that one colour stands for.
type group struct {
	members []int
	mean    [3]float64 // by weight
	weight  float64
	plane   int8
	parts   []int // the small groups it was joined from
}

const (
	seed       = 1  // of the first centres; any would do, but always the same
	rounds     = 12 // of k-means; the groups are merged afterwards
	spareTimes = 6  // first groups for each wanted

	accentsEach   = 4     // one target in so many is for an accent
	accentArea    = 0.002 // of the picture: less is a speck, unless it is clean
	cleanArea     = 0.0004
	cleanChroma   = 25.0 // from where a colour is clean, in the space of even
	accentNearest = 8.0  // in the space of even: less is no other colour
	endNearest    = 5.0  // the same for the darkest and lightest
)

// cluster parts the points into at most n groups, none across planes, and at
// least one for each plane. Many small groups are found first (k-means++,
// Arthur and Vassilvitskii, SODA 2007), then the two whose union adds least to
// the spread are joined (Ward, J. Am. Stat. Assoc. 58, 1963). Some of the n are
// kept for accents: small groups that lie far from the colour they were joined to.
func cluster(ctx context.Context, points []point, n int) []group {
	var small []group
	for _, ids := range byPlane(points) {
		small = append(small, kmeans(ctx, points, ids, n*spareTimes)...)
	}
	if ctx.Err() != nil {
		return nil
	}
	groups := merge(points, small, n-n/accentsEach)
	return detach(points, groups, small, n)
}

// byPlane lists the points of each plane, planes in a fixed order.
func byPlane(points []point) (lists [][]int) {
	index := map[int8]int{}
	for i, p := range points {
		k, ok := index[p.plane]
		if !ok {
			k = len(lists)
			index[p.plane] = k
			lists = append(lists, nil)
		}
		lists[k] = append(lists[k], i)
	}
	return lists
}

func kmeans(ctx context.Context, points []point, ids []int, k int) []group {
	centres := firstCentres(ctx, points, ids, k)
	var groups []group
	for n := 0; n < rounds && ctx.Err() == nil; n++ {
		groups = make([]group, len(centres))
		for _, i := range ids {
			groups[closest(centres, points[i].at)].add(points, i)
		}
		for j := range groups {
			if groups[j].weight > 0 {
				centres[j] = groups[j].mean
			}
		}
	}
	kept := groups[:0]
	for _, g := range groups {
		if len(g.members) > 0 {
			kept = append(kept, g)
		}
	}
	return kept
}

// firstCentres draws centres far from one another, by weight times squared
// distance to those already drawn.
func firstCentres(ctx context.Context, points []point, ids []int, k int) [][3]float64 {
	random := rand.New(rand.NewPCG(seed, uint64(len(ids))))
	near := make([]float64, len(ids))
	for i := range near {
		near[i] = math.Inf(1)
	}
	var centres [][3]float64
	next := heaviest(points, ids)
	for len(centres) < min(k, len(ids)) && ctx.Err() == nil {
		c := points[ids[next]].at
		centres = append(centres, c)
		var total float64
		for i, id := range ids {
			near[i] = min(near[i], distance2(points[id].at, c))
			total += float64(points[id].weight * near[i])
		}
		if total == 0 {
			break
		}
		draw := random.Float64() * total
		for i, id := range ids {
			if draw -= float64(points[id].weight * near[i]); draw < 0 {
				next = i
				break
			}
		}
	}
	return centres
}

func heaviest(points []point, ids []int) (best int) {
	for i, id := range ids {
		if points[id].weight > points[ids[best]].weight {
			best = i
		}
	}
	return best
}

func closest(centres [][3]float64, at [3]float64) (best int) {
	least := math.Inf(1)
	for j, c := range centres {
		if d := distance2(c, at); d < least {
			best, least = j, d
		}
	}
	return best
}

func (g *group) add(points []point, i int) {
	p := &points[i]
	total := g.weight + p.weight
	for k := range g.mean {
		g.mean[k] += (p.at[k] - g.mean[k]) * p.weight / total
	}
	g.weight, g.plane = total, p.plane
	g.members = append(g.members, i)
}

// merge joins groups of one plane, cheapest union first, until n are left or
// every plane has only one.
func merge(points []point, small []group, n int) []group {
	groups := slices.Clone(small)
	for i := range groups {
		groups[i].parts = []int{i}
	}
	for len(groups) > n {
		least, a, b := math.Inf(1), -1, -1
		for i := range groups {
			for j := i + 1; j < len(groups); j++ {
				if groups[i].plane != groups[j].plane {
					continue
				}
				if c := unionCost(&groups[i], &groups[j]); c < least {
					least, a, b = c, i, j
				}
			}
		}
		if a < 0 {
			return groups
		}
		groups[a] = union(points, small, append(slices.Clone(groups[a].parts), groups[b].parts...))
		groups = append(groups[:b], groups[b+1:]...)
	}
	return groups
}

// union joins small groups into one.
func union(points []point, small []group, parts []int) group {
	g := group{parts: parts}
	for _, k := range parts {
		for _, i := range small[k].members {
			g.add(points, i)
		}
	}
	return g
}

// detach takes small groups out of those they were joined to until there are n:
// first the darkest and the lightest, which set the range of values, then the
// most foreign.
func detach(points []point, groups, small []group, n int) []group {
	darkest, lightest := ends(points, small)
	for _, k := range []int{darkest, lightest} {
		if len(groups) < n && k >= 0 && nearestGroup(groups, &small[k]) > endNearest*endNearest {
			groups = detachOne(points, groups, small, k)
		}
	}
	for len(groups) < n {
		most, part := accentNearest*accentNearest, -1
		for k := range small {
			if d := nearestGroup(groups, &small[k]); d > most && tells(points, &small[k]) {
				most, part = d, k
			}
		}
		if part < 0 {
			break
		}
		groups = detachOne(points, groups, small, part)
	}
	return groups
}

// ends finds the darkest and lightest of the small groups that tell; -1 if none do.
func ends(points []point, small []group) (darkest, lightest int) {
	darkest, lightest = -1, -1
	for k := range small {
		if !tells(points, &small[k]) {
			continue
		}
		if l := small[k].mean[0]; darkest < 0 || l < small[darkest].mean[0] {
			darkest = k
		}
		if l := small[k].mean[0]; lightest < 0 || l > small[lightest].mean[0] {
			lightest = k
		}
	}
	return darkest, lightest
}

func detachOne(points []point, groups, small []group, k int) []group {
	from := slices.IndexFunc(groups, func(g group) bool { return slices.Contains(g.parts, k) })
	if rest := slices.DeleteFunc(slices.Clone(groups[from].parts), func(p int) bool { return p == k }); len(rest) > 0 {
		groups[from] = union(points, small, rest)
		groups = append(groups, union(points, small, []int{k}))
	}
	return groups
}

// nearestGroup is the squared distance to the nearest mean in the same plane.
func nearestGroup(groups []group, g *group) float64 {
	least := math.Inf(1)
	for i := range groups {
		if groups[i].plane == g.plane {
			least = min(least, distance2(groups[i].mean, g.mean))
		}
	}
	return least
}

// tells reports whether a group is large enough to be seen for itself; a clean
// colour is at a fifth of the area.
func tells(points []point, g *group) bool {
	var area float64
	for _, i := range g.members {
		area += points[i].area
	}
	if portable.Hypot(g.mean[1], g.mean[2]) >= cleanChroma {
		return area >= cleanArea
	}
	return area >= accentArea
}

// unionCost is what joining adds to the weighted squared spread.
func unionCost(g, h *group) float64 {
	return g.weight * h.weight / (g.weight + h.weight) * distance2(g.mean, h.mean)
}
