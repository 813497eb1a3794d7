package ferrule.drawing;

/** How a picture is drawn. */
public enum Style {
  /** Soft metal, for screens. */
  METAL,
  /** White with outlines, for print. */
  LINE
}
