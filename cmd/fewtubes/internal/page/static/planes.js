// Planes: the bands of a photograph, dragged in the view "Planes". draw puts them
// over the picture of a photograph; clear takes them away.
export function draw(stage, photo) {
  void stage;
  void photo;
}

export function clear() {}
