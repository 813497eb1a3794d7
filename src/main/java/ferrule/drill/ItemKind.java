package ferrule.drill;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What an item asks for, and how it is answered. */
public enum ItemKind {
  /** A part is lit on the drawing; the response is its name, typed. */
  NAME(Way.TYPED, 0, 15, 0, "Name the lit part, by typing", "naming"),
  /** A part is named; the response is a place on the drawing. */
  FIND(Way.POINTED, 6, 12, -0.7, "Find the named part, by pointing", "finding"),
  /** A part is lit; the response is its name, chosen among four. */
  CHOOSE_NAME(Way.CHOSEN, 4, 12, -0.7, "Name the lit part, among four names", "choosing names"),
  /** A part is lit; the response is its name, chosen among two that are easily taken for each other. */
  LOOK_ALIKES(Way.CHOSEN, 2, 10, -0.2, "Tell two look-alikes apart", "telling look-alikes apart"),
  /** A part is lit; the response is the assembly that it belongs to. */
  ASSEMBLY(Way.CHOSEN, 4, 12, -0.9, "Say which assembly a part belongs to", "assemblies"),
  /** Four parts are named; the response is the one that does not belong to an assembly. */
  ODD_ONE_OUT(Way.CHOSEN, 4, 20, -0.3, "Say which part does not belong", "odd ones out"),
  /** A brace is lit; the response is what it joins. */
  BRACE(Way.CHOSEN, 4, 14, -0.8, "Say what a brace joins", "braces"),
  /** Valves are pressed and the air has come to a place; the response is what it meets next. */
  AIR_PATH(Way.CHOSEN, 4, 22, 0, "Follow the air through the valves", "the way of the air"),
  /** A part is named; the response is another name that the trade has for it, typed. */
  SECOND_TERM(Way.TYPED, 0, 18, 0.6, "Give a second trade term", "second terms"),
  /** Steps of a procedure; the response is an order that works. */
  ORDER(Way.ORDERED, 0, 90, -0.3, "Put the steps of a work in order", "ordering steps"),
  /** Steps that have been done; the response is one that can come next. */
  NEXT_STEP(Way.CHOSEN, 4, 30, -0.2, "Say which step comes next", "next steps"),
  /** All steps but one; the response is the one that is missing. */
  LEFT_OUT(Way.CHOSEN, 4, 35, -0.5, "Say which step was left out", "steps left out"),
  /** A step; the response is a tool that it takes. */
  TOOL(Way.CHOSEN, 4, 20, -0.6, "Choose the tool for a step", "tools"),
  /** A step; the response is a caution that it calls for. */
  CAUTION(Way.CHOSEN, 4, 20, -0.5, "Choose the caution for a step", "cautions"),
  /** A reading and its limits; the response is whether it is within tolerance. */
  READING(Way.CHOSEN, 3, 20, -1.2, "Judge a reading against its limits", "readings");

  /** How an item of a kind is answered. */
  enum Way {
    TYPED,
    POINTED,
    CHOSEN,
    ORDERED
  }

  private final Way way;
  private final int choices;
  private final int seconds;
  private final double hardness;
  private final String title;
  private final String brief;

  ItemKind(Way way, int choices, int seconds, double hardness, String title, String brief) {
    this.way = way;
    this.choices = choices;
    this.seconds = seconds;
    this.hardness = hardness;
    this.title = title;
    this.brief = brief;
  }

  /** The kinds that ask only for names and places of single parts: what a drill had before there were others. */
  public static List<ItemKind> usual() {
    return List.of(NAME, FIND);
  }

  /** The word under which it is stored, such as "choose-name". */
  public String word() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** The kind with this word; throws {@link IllegalArgumentException} for any other text. */
  public static ItemKind parse(String word) {
    return find(word).orElseThrow(() -> new IllegalArgumentException("there is no kind of item called " + word));
  }

  /** The kind with this word, if there is one. */
  public static Optional<ItemKind> find(String word) {
    return Arrays.stream(values()).filter(k -> k.word().equals(word)).findFirst();
  }

  /** What the apprentice is asked to do, as a line of a form. */
  public String title() {
    return title;
  }

  /** The same in a word or two, such as "braces". */
  public String brief() {
    return brief;
  }

  /** Whether a name is typed. */
  public boolean isTyped() {
    return way == Way.TYPED;
  }

  /** Whether a place on the drawing is chosen. */
  public boolean isPointed() {
    return way == Way.POINTED;
  }

  /** Whether one of several options is chosen. */
  public boolean isChosen() {
    return way == Way.CHOSEN;
  }

  /** Whether steps are put in order. */
  public boolean isOrdered() {
    return way == Way.ORDERED;
  }

  /** Whether the answer shows if a part's name is known: only then does it count for what is known of the part. */
  public boolean asksForName() {
    return this == NAME || this == FIND || this == CHOOSE_NAME || this == LOOK_ALIKES;
  }

  /** Whether it asks about a part of the instrument and not about work on it. */
  public boolean asksAboutPart() {
    return ordinal() <= SECOND_TERM.ordinal();
  }

  /**
   * How many answers somebody who does not know could choose among; 0 where one has to be made up. For a place on a
   * drawing it is our own estimate, no source: a drawing shows more parts, but most are out of the question.
   */
  int choices() {
    return choices;
  }

  /** The chance of a right answer by somebody who does not know. */
  double guess() {
    return choices == 0 ? 0 : 1.0 / choices;
  }

  /** How long one takes, in seconds, feedback included: our own estimate, no source. */
  int seconds() {
    return seconds;
  }

  /** How much harder than naming by typing it is, in log odds of somebody knowing it: our own estimate, no source. */
  double hardness() {
    return hardness;
  }
}
