"""What is not round about the part's axis: cross holes, flats, slots, squares, hexagons, holes on a face, at any lean."""
