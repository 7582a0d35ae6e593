package page

// threeToOne is a dull green.
var threeToOne = []ingredient{{Tube: "ultramarine-blue", Parts: 3}, {Tube: "yellow-ochre", Parts: 1}}
