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
import java.util.function.Function;
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
    Map<UUID, Evidence> evidence = new LinkedHashMap<>();
    lasting(apprentices, asOf).forEach((apprentice, at) -> evidence.put(apprentice, at.apply(asOf)));
    return evidence;
  }

  /**
   * What was recorded of each of these apprentices by an instant, as it speaks for them at whatever moment it is asked, if
   * nothing is added; in their order.
   */
  Map<UUID, Function<Instant, Evidence>> lasting(Collection<UUID> apprentices, Instant upTo) {
    Map<UUID, List<LoggedRecord>> entries =
        records.about(apprentices, upTo).stream().collect(Collectors.groupingBy(LoggedRecord::apprentice));
    Map<UUID, NamingStore.Named> named = naming.named(apprentices, upTo);
    Map<UUID, List<BenchHours>> worked =
        hours.about(apprentices, upTo).stream().collect(Collectors.groupingBy(BenchHours::apprentice));
    Map<UUID, List<Equivalence>> granted =
        equivalences.of(apprentices, upTo).stream().collect(Collectors.groupingBy(Equivalence::apprentice));
    Map<UUID, Function<Instant, Evidence>> lasting = new LinkedHashMap<>();
    for (UUID apprentice : apprentices) {
      NamingStore.Named theirs = named.getOrDefault(apprentice, NamingStore.Named.NOTHING);
      List<SignedWork> works = SignedWork.after(entries.getOrDefault(apprentice, List.of()));
      List<BenchHours> counting = BenchHours.counting(worked.getOrDefault(apprentice, List.of()));
      List<Equivalence> grants = granted.getOrDefault(apprentice, List.of());
      lasting.put(
          apprentice,
          at -> new Evidence(works, assembly -> scope.count(assembly, theirs), counting, grants, at.atZone(zone)));
    }
    return lasting;
  }

  /** The school's zone. */
  ZoneId zone() {
    return zone;
  }
}
