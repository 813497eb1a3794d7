package ferrule.drill;

import ferrule.glossary.ConceptId;
import ferrule.naming.Ruling;
import ferrule.store.Database;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

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

  /** Takes a ruling back. */
  public static void undo(Database database, RuledAnswer ruling, UUID by, Instant at) {
    RulingStore store = new RulingStore(database);
    store.undo(ruling, by, at, store.made(), (response, plan) -> response.now()).orElseThrow();
  }
}
