package ferrule.competency;

import ferrule.people.Person;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * What another edition of the programme would change: in its rules, and for each apprentice.
 *
 * @param from the edition that they are judged by now
 * @param to the other edition
 * @param rules the competencies that differ, in the order of the other edition, those that it drops last
 * @param effects for each apprentice, in their order
 */
public record EditionChange(Programme from, Programme to, List<RuleChange> rules, List<Effect> effects) {

  /** Copies the lists. */
  public EditionChange {
    rules = List.copyOf(rules);
    effects = List.copyOf(effects);
  }

  /**
   * A competency that differs.
   *
   * @param title as the other edition has it; the present title if that drops it
   * @param before what proves it now; empty if it is new
   * @param after what would prove it; empty if it is dropped
   */
  public record RuleChange(String title, Optional<String> before, Optional<String> after) {}

  /**
   * What happens to one apprentice.
   *
   * @param apprentice who
   * @param before how many competencies are complete now
   * @param after how many would be
   * @param gains titles of competencies that would be complete and are not now
   * @param losses competencies that are complete now and would not be
   * @param dropped titles of competencies that are complete now and that the other edition has no more
   * @param added competencies that are new, and not complete
   * @param other competencies that are not complete either way, of which something else would be missing
   */
  public record Effect(
      Person apprentice,
      long before,
      long after,
      List<String> gains,
      List<Missing> losses,
      List<String> dropped,
      List<Missing> added,
      List<Missing> other) {

    /** Whether nothing would change for this apprentice. */
    public boolean isNone() {
      return gains.isEmpty() && losses.isEmpty() && dropped.isEmpty() && added.isEmpty() && other.isEmpty();
    }
  }

  /** A competency and what would be missing, in a sentence. */
  public record Missing(String title, String sentence) {}

  /**
   * The change for these apprentices.
   *
   * @param before how each stands by the first edition
   * @param after how each would stand by the second
   */
  static EditionChange of(
      Programme from, Programme to, List<Person> apprentices, Map<UUID, Progress> before, Map<UUID, Progress> after) {
    return new EditionChange(
        from, to, rules(from, to),
        apprentices.stream().map(a -> effect(a, before.get(a.id()), after.get(a.id()))).toList());
  }

  private static List<RuleChange> rules(Programme from, Programme to) {
    List<RuleChange> changes = new ArrayList<>();
    for (Competency now : to.competencies()) {
      Optional<String> before = from.find(now.id()).map(c -> c.requires().inWords());
      if (!before.equals(Optional.of(now.requires().inWords()))) {
        changes.add(new RuleChange(now.title(), before, Optional.of(now.requires().inWords())));
      }
    }
    from.competencies().stream().filter(c -> to.find(c.id()).isEmpty())
        .forEach(c -> changes.add(new RuleChange(c.title(), Optional.of(c.requires().inWords()), Optional.empty())));
    return changes;
  }

  private static Effect effect(Person apprentice, Progress before, Progress after) {
    List<String> gains = new ArrayList<>();
    List<Missing> losses = new ArrayList<>();
    List<Missing> added = new ArrayList<>();
    List<Missing> other = new ArrayList<>();
    for (Competency c : after.programme().competencies()) {
      Verdict will = after.of(c.id());
      Optional<Verdict> was = Optional.ofNullable(before.verdicts().get(c.id()));
      boolean held = was.filter(Verdict::isMet).isPresent();
      Missing missing = new Missing(c.title(), will.sentence());
      if (will.isMet() && !held) {
        gains.add(c.title());
      } else if (!will.isMet() && held) {
        losses.add(missing);
      } else if (was.isEmpty()) {
        added.add(missing);
      } else if (!was.get().sentence().equals(will.sentence())) {
        other.add(missing);
      }
    }
    List<String> dropped = before.programme().competencies().stream()
        .filter(c -> after.programme().find(c.id()).isEmpty() && before.of(c.id()).isMet())
        .map(Competency::title).toList();
    return new Effect(
        apprentice, before.complete(), after.complete(), gains, losses, dropped, added, other);
  }

  /** How many apprentices would gain at least one competency. */
  public long gaining() {
    return effects.stream().filter(e -> !e.gains().isEmpty()).count();
  }

  /** How many apprentices would lose at least one competency. */
  public long losing() {
    return effects.stream().filter(e -> !e.losses().isEmpty()).count();
  }
}
