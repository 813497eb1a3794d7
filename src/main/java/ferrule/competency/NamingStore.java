package ferrule.competency;

import static ferrule.store.jooq.Tables.DRILL_REGRADE;

import ferrule.drill.LastNamedStore;
import ferrule.drill.LastNamedStore.Last;
import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

/** What the answers in drills say about names. */
public final class NamingStore {

  /** The last answers of so many people are looked for among regraded ones in one statement. */
  private static final int AT_A_TIME = 50;

  private final Database database;
  private final LastNamedStore answers;

  /** A store over this database. */
  public NamingStore(Database database) {
    this.database = database;
    this.answers = new LastNamedStore(database);
  }

  /**
   * What somebody named.
   *
   * @param right the parts that they named right when they were last asked
   * @param asked the parts that they were asked for at all
   */
  public record Named(Set<ConceptId> right, Set<ConceptId> asked) {

    /** Of somebody who was asked for nothing. */
    static final Named NOTHING = new Named(Set.of(), Set.of());
  }

  /**
   * What each of these people was asked to name up to and at an instant, and named right when last asked, with the
   * rulings made by then. Right is what has full credit: the preferred term or another trade term.
   */
  public Map<UUID, Named> named(Collection<UUID> people, Instant upTo) {
    List<UUID> all = List.copyOf(people);
    Map<UUID, Named> named = new HashMap<>();
    for (int from = 0; from < all.size(); from += AT_A_TIME) {
      List<UUID> some = all.subList(from, Math.min(all.size(), from + AT_A_TIME));
      Map<UUID, Map<ConceptId, Last>> last = answers.last(some, upTo);
      Map<UUID, Double> regraded = regraded(last.values(), upTo);
      last.forEach((who, parts) -> named.put(who, named(parts, regraded)));
    }
    return named;
  }

  private static Named named(Map<ConceptId, Last> parts, Map<UUID, Double> regraded) {
    Set<ConceptId> right = new HashSet<>();
    parts.forEach((part, last) -> {
      if (regraded.getOrDefault(last.response(), last.credit()) >= 1.0) {
        right.add(part);
      }
    });
    return new Named(right, parts.keySet());
  }

  /** What those of these answers count that had been regraded by an instant. */
  private Map<UUID, Double> regraded(Collection<Map<ConceptId, Last>> answers, Instant upTo) {
    List<UUID> responses = answers.stream().flatMap(parts -> parts.values().stream()).map(Last::response).toList();
    Map<UUID, Double> regraded = new HashMap<>();
    database
        .dsl()
        .select(DRILL_REGRADE.RESPONSE_ID, DRILL_REGRADE.CREDIT)
        .from(DRILL_REGRADE)
        .where(DRILL_REGRADE.RESPONSE_ID.in(responses), DRILL_REGRADE.REGRADED_AT.le(upTo))
        .orderBy(DRILL_REGRADE.ORDINAL)
        .forEach(row -> regraded.put(row.value1(), row.value2()));
    return regraded;
  }
}
