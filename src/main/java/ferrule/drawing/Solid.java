package ferrule.drawing;

/** The form of one piece of material: a {@link Sweep} of discs along an axis, or a body with flat {@link Facets}. */
public sealed interface Solid permits Sweep, Facets {

  /** The same solid, described in a frame's coordinates, in the outer ones. */
  Solid in(Frame frame);

  /** The same solid moved without turning. */
  Solid moved(Vec by);
}
