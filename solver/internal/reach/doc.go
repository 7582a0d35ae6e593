// Package reach learns, by searching for mixes, which sets of tubes reach a colour
// and which fail to: a mix found says that every set which holds its paints
// reaches the colour; a set found to fail says that every part of it does. Tubes
// and targets go by index.
//
// Its words:
//
//   - oracle: who searches for mixes, the mixer or a stand-in of a test
//   - support: a mix, and with it every set that holds its paints
//   - failing set: a set of tubes and how near it comes; the tubes outside it are
//     a cut, since the colour needs one of them
//   - known: what is known of one target
//   - growing: making a failing set as large as it gets, so that the cut is small
//   - list: where a mix holds few paints, all sets of tubes that reach a target
//   - pull: how much nearer a little more of a tube promises to bring a mix
package reach
