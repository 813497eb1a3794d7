package ferrule.audit;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;

/**
 * Takes in what happens.
 *
 * <p>A change is noted in the database, as begun, before its handler runs: whatever is changed has its line, at a kill
 * too, which then says that nothing is known of its end. What is only seen, how a change ended, refusals, sign-ins, and
 * changes that come often and are themselves kept with who and when (answers, drafts) are gathered and written together,
 * about once a second, so that no page waits for them; a kill loses at most what was gathered since. A stop loses nothing.
 *
 * <p>Somebody who opens what is their own leaves no line.
 */
public final class AuditTrail {

  /** How many are gathered at most before whoever adds the next one writes them. */
  private static final int MOST = 500;

  private final AuditStore store;
  private final Clock clock;
  private final Meanings meanings = Meanings.bundled();
  private final List<Gathered> gathered = new ArrayList<>();
  private Instant tidied = Instant.MIN;

  /** What is yet to be written: a line, or how one that is there ended. */
  private record Gathered(Happening happening, Meaning meaning, List<Long> there, String outcome) {}

  /** A trail that is kept in this store. */
  public AuditTrail(AuditStore store, Clock clock) {
    this.store = store;
    this.clock = clock;
  }

  /** Where the form of a route names whom it is about; empty if it does not. */
  public Optional<String> field(String route) {
    return Optional.of(meanings.of(route)).filter(m -> m.source().equals("form") || m.source().equals("query"))
        .map(Meaning::name);
  }

  /**
   * Told before a request is done that was let through.
   *
   * @return what {@link #ended} is to be told; empty if nothing is written yet
   */
  public List<Long> begins(Happening happening) {
    Meaning meaning = meanings.of(happening.route());
    return meaning.kind() == Meaning.Kind.CHANGED ? store.add(lines(happening, meaning, "begun")) : List.of();
  }

  /**
   * Told when a request was answered.
   *
   * @param begun what {@link #begins} returned
   * @param status of HTTP
   */
  public void ended(Happening happening, List<Long> begun, int status) {
    Meaning meaning = meanings.of(happening.route());
    String outcome = status < 400 ? "done" : status < 500 ? "refused" : "failed";
    boolean silent = meaning.kind() == Meaning.Kind.PLAIN && !outcome.equals("refused");
    if (!silent) {
      gather(new Gathered(happening, meaning, begun, outcome));
    }
  }

  private void gather(Gathered one) {
    boolean full;
    synchronized (gathered) {
      gathered.add(one);
      full = gathered.size() >= MOST;
    }
    if (full) {
      flush();
    }
  }

  /** Writes what was gathered; if that fails, it stays gathered. */
  public void flush() {
    List<Gathered> now;
    synchronized (gathered) {
      now = List.copyOf(gathered);
      gathered.clear();
    }
    if (now.isEmpty()) {
      return;
    }
    try {
      store.write(
          now.stream().filter(g -> g.there().isEmpty()).flatMap(g -> lines(g.happening(), g.meaning(), g.outcome()).stream())
              .filter(AuditTrail::isAnothers).toList(),
          now.stream().filter(g -> !g.there().isEmpty()).map(g -> new AuditStore.End(g.there(), g.outcome())).toList());
    } catch (RuntimeException e) {
      synchronized (gathered) {
        gathered.addAll(0, now.size() + gathered.size() > 20 * MOST ? List.of() : now);
      }
      throw e;
    }
  }

  private static boolean isAnothers(Entry line) {
    return !line.kind().equals("saw") || line.about().isEmpty() || !line.about().equals(line.who());
  }

  /** A line for each person that it is about, or one if it is about nobody. */
  private List<Entry> lines(Happening h, Meaning meaning, String outcome) {
    Function<Optional<UUID>, Entry> line = about -> new Entry(
        0, h.at(), meaning.kind().word(), h.who(), h.role(), about, h.route(), thing(h), h.address(), h.request(), outcome);
    List<String> named = meaning.source().equals("path")
        ? Optional.ofNullable(h.path().get(meaning.name())).map(List::of).orElse(List.of()) : h.fields();
    List<Entry> lines = named.stream().flatMap(text -> store.whose(meaning.thing(), text).stream()).distinct()
        .map(about -> line.apply(Optional.of(about))).toList();
    return lines.isEmpty() ? List.of(line.apply(Optional.empty())) : lines;
  }

  /** What the address names; never a secret. */
  private static String thing(Happening h) {
    String words = String.join(" ", h.path().entrySet().stream().filter(p -> !p.getKey().equals("token"))
        .map(Map.Entry::getValue).toList());
    return words.length() <= 200 ? words : words.substring(0, 200);
  }

  /** Removes what is older than so many days and was only seen, or was a coming and going; looks once an hour. */
  public void tidy(int days) {
    Instant now = clock.instant();
    if (tidied.isBefore(now.minus(Duration.ofHours(1)))) {
      store.forget(now.minus(Duration.ofDays(days)));
      tidied = now;
    }
  }
}
