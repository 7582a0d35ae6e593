package film

import (
	"strconv"
	"sync"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// NodeCount, NodeStartNM and NodeStepNM describe stored K and S: 380-740 nm by
// 20 nm. Real paints are smooth enough that nothing visible is lost (see
// TestNodesLoseNothingVisible for the figure).
const (
	NodeCount   = 19
	NodeStartNM = 380
	NodeStepNM  = 20
)

// Nodes are K and S at the nodes, three significant digits, all > 0.
type Nodes struct{ K, S [NodeCount]float64 }

// FromNodes interpolates log K and log S by natural cubic splines.
func FromNodes(n *Nodes) Paint {
	return Paint{K: fromNodes(&n.K), S: fromNodes(&n.S)}
}

// Nodes are the node values whose splines come closest to the paint, in least
// squares of the logarithms.
func (p *Paint) Nodes() Nodes {
	return Nodes{K: toNodes(&p.K), S: toNodes(&p.S)}
}

// nodeBends factors the equations for h^2 times the second derivatives of a
// natural cubic spline at its inner nodes, h apart: 1, 4, 1 along the rows.
var nodeBends = sync.OnceValue(func() banded {
	m := newBanded(NodeCount-2, 1)
	for i := range m.n {
		row := m.row(i)
		row[0] = 4
		if len(row) > 1 {
			row[1] = 1
		}
	}
	m.factor()
	return m
})

// spline is the natural cubic spline through values at the nodes, at the bands,
// which are the nodes and the middles between them.
func spline(v *[NodeCount]float64) (out [colour.Bands]float64) {
	var bend [NodeCount]float64
	for i := 1; i < NodeCount-1; i++ {
		bend[i] = 6 * ((v[i+1] - v[i]) - (v[i] - v[i-1]))
	}
	bends := nodeBends()
	bends.solve(bend[1 : NodeCount-1])
	for b := range out {
		i := b / 2
		if out[b] = v[i]; b%2 == 1 {
			out[b] = float64((v[i]+v[i+1])/2) - float64((bend[i]+bend[i+1])/16)
		}
	}
	return out
}

// nodeBasis is what the spline of 1 at one node and 0 at the others is at the
// bands, and the factored equations of the least squares over all of them.
var nodeBasis = sync.OnceValues(func() (basis [NodeCount][colour.Bands]float64, squares banded) {
	squares = newBanded(NodeCount, NodeCount-1)
	for i := range basis {
		var unit [NodeCount]float64
		unit[i] = 1
		basis[i] = spline(&unit)
	}
	for i := range basis {
		for j := range squares.row(i) {
			squares.row(i)[j] = product(basis[i][:], basis[i+j][:])
		}
	}
	squares.factor()
	return basis, squares
})

func fromNodes(v *[NodeCount]float64) (out [colour.Bands]float64) {
	var logs [NodeCount]float64
	for i, x := range v {
		logs[i] = portable.Log(x)
	}
	out = spline(&logs)
	for b, x := range out {
		out[b] = portable.Exp(x)
	}
	return out
}

func toNodes(v *[colour.Bands]float64) (out [NodeCount]float64) {
	var logs [colour.Bands]float64
	for b, x := range v {
		logs[b] = portable.Log(x)
	}
	basis, squares := nodeBasis()
	for i := range out {
		out[i] = product(basis[i][:], logs[:])
	}
	squares.solve(out[:])
	for i, x := range out {
		out[i] = threeDigits(portable.Exp(x))
	}
	return out
}

func threeDigits(v float64) float64 {
	x, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	if err != nil {
		return v
	}
	return x
}
