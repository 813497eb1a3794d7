package ferrule.drawing;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** What a part is made of, as far as its look goes. */
public enum Material {
  /** The body metal, in the finish asked for: lacquered brass, silver plate or raw brass. */
  BODY,
  /** Nickel silver: inner slide tubes, ferrules, receivers. */
  NICKEL,
  /** Steel: springs, screws, rods. */
  STEEL,
  /** Felt: bumpers and washers. */
  FELT,
  /** Cork or rubber: water key pads, bumpers. */
  CORK,
  /** Plastic: valve guides. */
  PLASTIC,
  /** Mother of pearl or its substitute: button inlays. */
  PEARL,
  /** A hole: the dark of an opening. */
  VOID,
  /** Air in a passage, drawn where a body is cut away. */
  AIR;

  /** The material of this name in a model file, such as {@code nickel}. */
  static Optional<Material> named(String name) {
    return Arrays.stream(values()).filter(m -> m.key().equals(name)).findFirst();
  }

  /** The name in a model file. */
  String key() {
    return name().toLowerCase(Locale.ROOT);
  }
}
