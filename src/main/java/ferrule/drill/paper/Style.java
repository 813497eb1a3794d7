package ferrule.drill.paper;

import ferrule.drill.Item;

/** How an item stands on paper, in the order in which they stand on a worksheet. */
enum Style {
  /** A number beside a part of a drawing, and a line for its name. */
  NAME,
  /** A name, whose part is to be numbered on a drawing. */
  FIND,
  /** A number beside a part of a drawing, and answers to tick. */
  TICK,
  /** A question in words, with answers to tick, a line to write on, or steps to number. */
  WORDS;

  static Style of(Item item) {
    return switch (item.kind()) {
      case NAME -> NAME;
      case FIND -> FIND;
      case CHOOSE_NAME, LOOK_ALIKES, ASSEMBLY, BRACE -> TICK;
      default -> WORDS;
    };
  }

  /** Whether numbers stand on the drawing of a worksheet. */
  boolean isNumbered() {
    return this == NAME || this == TICK;
  }

  /** Whether there is a drawing. */
  boolean isDrawn() {
    return this != WORDS;
  }
}
