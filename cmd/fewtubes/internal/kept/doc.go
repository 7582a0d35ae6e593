// Package kept keeps the page's scenes as files, so that tomorrow the table stands
// as it was left. In the folder of a Store, which no other account may read, lie
//
//	scenes/marsh/scene.toml           the scene as every command reads it
//	scenes/marsh/table-17.gz          the same as the page has it, with its acts: revision 17
//	scenes/marsh/photos/ID/wide.jpg   a photograph as it came, by the hash of its bytes
//	scenes/marsh/thumbs/ID.jpg        the same, small
//	removed/marsh@20261129T021500Z/   a scene removed then, kept for 30 days
//	last                              the scene that was open last
//	secret, running                   what opens the page, and where it is served now
//
// A change writes the next table whole, under a name that nobody has yet, and then
// the scene file: of two writers one finds the name taken and has to look again, and
// one killed in between is finished by the next reader. A scene file that somebody
// else changed becomes a revision of its own, so that both versions are kept.
//
// What the page writes about a scene is carried as it is; only Form knows it.
package kept
