package ferrule.dossier;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.competency.AreaView;
import ferrule.competency.Competencies;
import ferrule.competency.Progress;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogEntry;
import ferrule.ledger.Proofs;
import ferrule.ledger.ProvenEntry;
import ferrule.ledger.SignedHead;
import ferrule.people.Person;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

/** Puts an apprentice's whole record together. */
public final class DossierBook {

  private static final ObjectMapper JSON = new ObjectMapper();

  private final Competencies competencies;
  private final LedgerStore ledger;
  private final Proofs proofs;
  private final Clock clock;
  private final ZoneId zone;
  private final DateTimeFormatter day;

  /**
   * A maker of records.
   *
   * @param zone the school's, in which days are told
   */
  public DossierBook(Competencies competencies, LedgerStore ledger, Proofs proofs, Clock clock, ZoneId zone) {
    this.competencies = competencies;
    this.ledger = ledger;
    this.proofs = proofs;
    this.clock = clock;
    this.zone = zone;
    this.day = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH).withZone(zone);
  }

  /** The whole record of an apprentice as it is now. */
  Dossier of(Person apprentice) {
    Instant now = clock.instant();
    SignedHead head = proofs.head();
    Progress progress = competencies.of(apprentice.id(), now);
    // what is signed in this very moment is not in the head yet
    List<LogEntry> entries =
        ledger.about(apprentice.id()).stream().filter(e -> e.number() <= head.head().size()).toList();
    Map<UUID, Long> takers = new HashMap<>();
    entries.forEach(e -> e.said().supersedes().ifPresent(earlier -> takers.put(earlier, e.number())));
    List<ProvenEntry> proven = proofs.prove(entries, head);
    return new Dossier(
        apprentice, now, progress.programme().title(), progress.programme().edition(), progress.complete(),
        progress.verdicts().size(), AreaView.of(progress, zone),
        proven.stream().filter(p -> entries.contains(p.entry()))
            .map(p -> line(p, takers.getOrDefault(p.entry().id(), 0L))).toList(),
        proven, head, proofs.key());
  }

  private Dossier.Line line(ProvenEntry proven, long takenBy) {
    LogEntry entry = proven.entry();
    JsonNode said = read(entry);
    String kind = entry.kind().replace('-', ' ');
    return new Dossier.Line(
        proven, Character.toUpperCase(kind.charAt(0)) + kind.substring(1), what(said), detail(said),
        said.path("signed").path("name").asText(), day.format(entry.at()), takenBy);
  }

  private static JsonNode read(LogEntry entry) {
    try {
      return JSON.readTree(entry.body());
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("record " + entry.number() + " of the log cannot be read; run verify", e);
    }
  }

  private String what(JsonNode said) {
    if (said.has("grade")) {
      return said.path("grade").path("task").path("title").asText();
    }
    String competency = said.path("competency").asText();
    return competencies.programme().competencies().stream()
        .filter(c -> c.id().equals(competency)).map(c -> c.title()).findFirst().orElse(competency);
  }

  private static String detail(JsonNode said) {
    JsonNode grade = said.path("grade");
    String work = said.has("grade")
        ? grade.path("instrument").path("tag").asText() + ", " + grade.path("standing").asText() : "";
    String reason = said.path("reason").asText();
    return work.isEmpty() || reason.isEmpty() ? work + reason : work + ". " + reason;
  }
}
