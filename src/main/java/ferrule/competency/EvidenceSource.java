package ferrule.competency;

import ferrule.bench.LoggedRecord;
import ferrule.bench.RecordStore;
import ferrule.bench.SignedWork;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;

/** Gathers what speaks for apprentices, from everywhere that it is kept. */
public final class EvidenceSource {

  private final RecordStore records;
  private final NamingStore naming;
  private final NameScope scope;
  private final HoursStore hours;
  private final EquivalenceStore equivalences;
  private final ZoneId zone;

  /**
   * A source over these stores.
   *
   * @param zone the school's, by whose calendar spans are reckoned
   */
  public EvidenceSource(
      RecordStore records,
      NamingStore naming,
      NameScope scope,
      HoursStore hours,
      EquivalenceStore equivalences,
      ZoneId zone) {
    this.records = records;
    this.naming = naming;
    this.scope = scope;
    this.hours = hours;
    this.equivalences = equivalences;
    this.zone = zone;
  }

  /** What speaks at an instant for somebody who has nothing but this prior learning. */
  Evidence nothingBut(List<Equivalence> granted, Instant asOf) {
    return new Evidence(
        List.of(), assembly -> scope.count(assembly, NamingStore.Named.NOTHING), List.of(), granted, asOf.atZone(zone));
  }

  /** What speaks for each of these apprentices at an instant, from what was recorded by then; in their order. */
  Map<UUID, Evidence> of(Collection<UUID> apprentices, Instant asOf) {
    Map<UUID, List<LoggedRecord>> entries =
        records.about(apprentices, asOf).stream().collect(Collectors.groupingBy(LoggedRecord::apprentice));
    Map<UUID, NamingStore.Named> named = naming.named(apprentices, asOf);
    Map<UUID, List<BenchHours>> worked =
        hours.about(apprentices, asOf).stream().collect(Collectors.groupingBy(BenchHours::apprentice));
    Map<UUID, List<Equivalence>> granted =
        equivalences.of(apprentices, asOf).stream().collect(Collectors.groupingBy(Equivalence::apprentice));
    Map<UUID, Evidence> evidence = new LinkedHashMap<>();
    for (UUID apprentice : apprentices) {
      NamingStore.Named theirs = named.getOrDefault(apprentice, NamingStore.Named.NOTHING);
      evidence.put(
          apprentice,
          new Evidence(
              SignedWork.after(entries.getOrDefault(apprentice, List.of())),
              assembly -> scope.count(assembly, theirs),
              BenchHours.counting(worked.getOrDefault(apprentice, List.of())),
              granted.getOrDefault(apprentice, List.of()),
              asOf.atZone(zone)));
    }
    return evidence;
  }
}
