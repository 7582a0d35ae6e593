package film

import (
	"math"
	"strconv"
	"sync"

	"fewtubes/gamut/colour"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
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

func nodeWavelengths() []float64 {
	at := make([]float64, NodeCount)
	for i := range at {
		at[i] = float64(NodeStartNM + i*NodeStepNM)
	}
	return at
}

// nodeBasis is the linear map from node logarithms to band logarithms.
var nodeBasis = sync.OnceValue(func() *mat.Dense {
	basis := mat.NewDense(colour.Bands, NodeCount, nil)
	for j := range NodeCount {
		unit := make([]float64, NodeCount)
		unit[j] = 1
		var spline interp.NaturalCubic
		if err := spline.Fit(nodeWavelengths(), unit); err != nil {
			panic("film: node spline: " + err.Error())
		}
		for b := range colour.Bands {
			basis.Set(b, j, spline.Predict(float64(colour.StartNM+b*colour.StepNM)))
		}
	}
	return basis
})

func fromNodes(v *[NodeCount]float64) (out [colour.Bands]float64) {
	logs := mat.NewVecDense(NodeCount, nil)
	for i, x := range v {
		logs.SetVec(i, math.Log(x))
	}
	var bands mat.VecDense
	bands.MulVec(nodeBasis(), logs)
	for b := range out {
		out[b] = math.Exp(bands.AtVec(b))
	}
	return out
}

func toNodes(v *[colour.Bands]float64) (out [NodeCount]float64) {
	logs := mat.NewVecDense(colour.Bands, nil)
	for b, x := range v {
		logs.SetVec(b, math.Log(x))
	}
	var nodes mat.VecDense
	if err := nodes.SolveVec(nodeBasis(), logs); err != nil {
		panic("film: node basis: " + err.Error())
	}
	for i := range out {
		out[i] = threeDigits(math.Exp(nodes.AtVec(i)))
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
