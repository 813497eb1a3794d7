package ferrule.app;

import ferrule.audit.AuditTrail;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.report.bundle.LongWorker;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.store.StoreTrouble;
import ferrule.web.Hosted;
import ferrule.web.Operations;
import ferrule.web.Sites;
import ferrule.web.WebConfig;
import ferrule.web.WebServer;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;

/**
 * The sites of one running Ferrule: an {@link Installation} for each, over one curriculum and one pool of connections. A
 * site is opened when somebody first asks for it, so one that was added at another node is served without a restart.
 */
final class Campus implements Sites, AutoCloseable {

  /** How old the list of sites on a page may be. */
  private static final Duration FRESH = Duration.ofSeconds(5);

  private final Books books;
  private final SiteStore sites;
  private final Function<Site, HeadSigner> signers;
  private final Clock clock;
  private final ZoneId zone;
  private final Map<String, Installation> open = new ConcurrentHashMap<>();
  private volatile Operations operations = Operations.UNWATCHED;
  private volatile Listed listed = NOT_YET;

  private static final Listed NOT_YET = new Listed(List.of(), Instant.MIN);

  private record Listed(List<Site> sites, Instant until) {}

  /**
   * The sites of the installation that starts in this database, which it closes in the end.
   *
   * @param first the tables of the first site
   * @param signers of each site's log
   * @param clock the time for everything in them
   * @param zone the school's zone, for due dates
   */
  Campus(Books books, Database first, Function<Site, HeadSigner> signers, Clock clock, ZoneId zone) {
    this.books = books;
    this.sites = new SiteStore(first, clock, () -> listed = NOT_YET);
    this.signers = signers;
    this.clock = clock;
    this.zone = zone;
    at(Site.FIRST).orElseThrow();
  }

  /** The site that the installation started with. */
  Installation first() {
    return open.get(Site.FIRST);
  }

  /** The site of this name, opened as needed; empty if there is none. */
  Optional<Installation> at(String name) {
    Installation there = open.get(name);
    return there != null ? Optional.of(there)
        : sites.site(name).map(site -> open.computeIfAbsent(name, n -> opened(site)));
  }

  private Installation opened(Site site) {
    return new Installation(books, sites, site, signers.apply(site), clock, zone);
  }

  /** The signed heads of the sites that are open here; nothing is added to any other. */
  List<HeadStore> heads() {
    return open.values().stream().map(Installation::heads).toList();
  }

  /** What keeps progress in the sites that are open here. */
  List<Rounds.Round> progressRounds() {
    return open.values().stream().map(Installation::progressRound).toList();
  }

  /** What keeps what is known in the sites that are open here. */
  List<Rounds.Round> knownRounds() {
    return open.values().stream().map(Installation::knownRound).toList();
  }

  /** The trails of the sites that are open here. */
  List<AuditTrail> trails() {
    return open.values().stream().map(Installation::trail).toList();
  }

  /** Those who do long work in the sites that are open here. */
  List<LongWorker> longWorkers() {
    return open.values().stream().map(Installation::longWorker).toList();
  }

  @Override
  public List<Site> all() {
    Instant now = clock.instant();
    if (!now.isBefore(listed.until())) {
      listed = new Listed(asked(), now.plus(FRESH));
    }
    return listed.sites();
  }

  // the page that says that the database is away names the site too, and must not wait for it
  private List<Site> asked() {
    if (!listed.sites().isEmpty() && operations.closed().isPresent()) {
      return listed.sites();
    }
    try {
      return sites.all();
    } catch (RuntimeException e) {
      if (listed.sites().isEmpty() || StoreTrouble.of(e).isEmpty()) {
        throw e;
      }
      return listed.sites();
    }
  }

  @Override
  public Optional<Hosted> open(String name) {
    return at(name).map(Installation::hosted);
  }

  /** Starts the server over all of them, watched by these. */
  WebServer serve(WebConfig config, Operations operations) {
    this.operations = operations;
    return WebServer.start(config, this, operations);
  }

  @Override
  public void close() {
    first().close();
  }
}
