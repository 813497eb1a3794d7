package ferrule.competency;

import ferrule.bench.LoggedRecord;
import ferrule.bench.RecordStore;
import ferrule.bench.SignedWork;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/** Evaluates a programme for apprentices from what was recorded up to an instant. */
public final class Competencies {

  private final Programme programme;
  private final RecordStore records;
  private final NamingStore naming;
  private final NameScope scope;

  /** An evaluator of this programme over these records. */
  public Competencies(Programme programme, RecordStore records, NamingStore naming, NameScope scope) {
    this.programme = programme;
    this.records = records;
    this.naming = naming;
    this.scope = scope;
  }

  /** The programme. */
  public Programme programme() {
    return programme;
  }

  /** How one apprentice stood at an instant. */
  public Progress of(UUID apprentice, Instant asOf) {
    return of(List.of(apprentice), asOf).get(apprentice);
  }

  /** How each of these apprentices stood at an instant, in their order. */
  public Map<UUID, Progress> of(Collection<UUID> apprentices, Instant asOf) {
    Map<UUID, List<LoggedRecord>> entries =
        records.about(apprentices, asOf).stream().collect(Collectors.groupingBy(LoggedRecord::apprentice));
    Map<UUID, Set<ConceptId>> named = naming.namedRight(apprentices, asOf);
    Map<UUID, Progress> progress = new LinkedHashMap<>();
    for (UUID apprentice : apprentices) {
      Evidence evidence = new Evidence(
          SignedWork.after(entries.getOrDefault(apprentice, List.of())),
          assembly -> scope.count(assembly, named.getOrDefault(apprentice, Set.of())));
      progress.put(apprentice, Progress.of(programme, evidence, asOf));
    }
    return progress;
  }
}
