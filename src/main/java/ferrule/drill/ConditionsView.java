package ferrule.drill;

import java.util.ArrayList;
import java.util.List;

/** Conditions in words. */
final class ConditionsView {

  private ConditionsView() {}

  /** Such as "2 attempts, the best counts". */
  static String attempts(Conditions c) {
    if (c.attempts() == 1) {
      return "once";
    }
    return "up to " + c.attempts() + " times, the "
        + (c.counts() == Conditions.Counts.BEST ? "best attempt" : "last attempt") + " counts";
  }

  /** Such as "after each answer". */
  static String feedback(Conditions c) {
    return c.feedback() == Conditions.Feedback.EACH ? "after each answer" : "at the end";
  }

  /** Such as "1 minute". */
  static String minutes(long minutes) {
    return minutes + (minutes == 1 ? " minute" : " minutes");
  }

  /** What an apprentice should know before starting, in a few words each; nothing of what is usual. */
  static List<String> brief(Conditions c, Pace pace) {
    List<String> words = new ArrayList<>();
    c.limit().ifPresent(l -> words.add(minutes(pace.of(l).toMinutes())));
    if (c.attempts() > 1) {
      words.add(attempts(c));
    }
    if (c.feedback() == Conditions.Feedback.END) {
      words.add("verdicts at the end");
    }
    if (!c.lateWork()) {
      words.add("closes when due");
    }
    return words;
  }
}
