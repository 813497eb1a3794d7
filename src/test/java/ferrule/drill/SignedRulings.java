package ferrule.drill;

import ferrule.glossary.ConceptId;
import ferrule.naming.Ruling;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;

/** Rulings that tests of the log make, on answers that nobody gave. */
public final class SignedRulings {

  private SignedRulings() {}

  /** Rules that a word is an everyday name. */
  public static RuledAnswer rule(Database database, UUID by, String word, Instant at) {
    RuledAnswer ruling = new RuledAnswer(
        UUID.randomUUID(), "trumpet", "e1", word,
        Ruling.on(word, ConceptId.of("main-tuning-slide-crook"), new Ruling.Decision.AcceptAsColloquial()), by, at,
        Optional.empty());
    RulingStore store = new RulingStore(database);
    store.rule(ruling, store.made(), (response, plan) -> response.now()).orElseThrow();
    return ruling;
  }

  /**
   * Rules on what was typed for a part, and regrades the answers with this phrase.
   *
   * @param outcome what an answer counts from then on
   */
  public static RuledAnswer rule(
      Database database, UUID by, String typed, ConceptId part, Instant at, Function<Response, Outcome> outcome) {
    RuledAnswer ruling = new RuledAnswer(
        UUID.randomUUID(), "trumpet", "e1", typed, Ruling.on(typed, part, new Ruling.Decision.AcceptAsTerm()), by, at,
        Optional.empty());
    RulingStore store = new RulingStore(database);
    store.rule(ruling, store.made(), (response, plan) -> outcome.apply(response)).orElseThrow();
    return ruling;
  }

  /** Takes a ruling back, and regrades the answers with its phrase. */
  public static void undo(
      Database database, RuledAnswer ruling, UUID by, Instant at, Function<Response, Outcome> outcome) {
    RulingStore store = new RulingStore(database);
    store.undo(ruling, by, at, store.made(), (response, plan) -> outcome.apply(response)).orElseThrow();
  }

  /** Takes a ruling back. */
  public static void undo(Database database, RuledAnswer ruling, UUID by, Instant at) {
    RulingStore store = new RulingStore(database);
    store.undo(ruling, by, at, store.made(), (response, plan) -> response.now()).orElseThrow();
  }
}
