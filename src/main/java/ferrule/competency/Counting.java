package ferrule.competency;

import java.util.Optional;

/**
 * Which of a task's sign-offs count together.
 *
 * @param order whether work that falls short stands in between
 * @param within the longest time from the first of them to the last
 * @param noOlder how long ago each may have been at most: the currency of skills that a safe shop keeps fresh
 */
public record Counting(Order order, Optional<Span> within, Optional<Span> noOlder) {

  /** Every sign-off that is good enough, whenever it was. */
  public static final Counting ALL = new Counting(Order.BEST, Optional.empty(), Optional.empty());

  /** What work that falls short does to the work around it. */
  public enum Order {
    /** It does not matter: the best work counts. */
    BEST("best"),
    /** Nothing falls short after the first that counts: the latest work counts. */
    LATEST("latest"),
    /** Nothing falls short between the first and the last that count. */
    CONSECUTIVE("consecutive");

    private final String word;

    Order(String word) {
      this.word = word;
    }

    /** The word for it in a programme. */
    public String word() {
      return word;
    }

    /** The order with this word; throws {@link IllegalArgumentException} for any other text. */
    public static Order parse(String word) {
      for (Order order : values()) {
        if (order.word.equals(word)) {
          return order;
        }
      }
      throw new IllegalArgumentException("sign-offs count as best, latest or consecutive; given: " + word);
    }
  }

  /** Whether more good work can never take away what counts by now, as time stands still. */
  boolean isUnrestricted() {
    return equals(ALL);
  }

  /** As the end of a rule in words; empty if every sign-off counts. */
  String inWords(int times) {
    String how = switch (order) {
      case BEST -> "";
      case LATEST -> times == 1 ? ", the latest time that it was done" : ", the latest times in a row";
      case CONSECUTIVE -> times == 1 ? "" : ", in a row";
    };
    return how + within.map(s -> ", all within " + s.inWords()).orElse("")
        + noOlder.map(s -> ", none older than " + s.inWords()).orElse("");
  }
}
