package ferrule.site;

import static ferrule.store.jooq.Tables.SITE;

import ferrule.store.Database;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jooq.Record;
import org.jooq.exception.IntegrityConstraintViolationException;

/**
 * The sites of an installation, listed in the schema of the first, whose tables are those that were there before there
 * could be several. Each further one has the same tables in a schema of its own, over the same connections.
 */
public final class SiteStore {

  private final Database first;
  private final Clock clock;
  private final Runnable changed;

  /** The sites of the installation whose first site's tables these are. */
  public SiteStore(Database first, Clock clock) {
    this(first, clock, () -> {});
  }

  /**
   * The same, for somebody who keeps the list at hand.
   *
   * @param changed told when it was changed here
   */
  public SiteStore(Database first, Clock clock, Runnable changed) {
    this.first = first;
    this.clock = clock;
    this.changed = changed;
  }

  /** Every site: the first, then the others by title. */
  public List<Site> all() {
    List<Site> sites = new ArrayList<>();
    sites.add(site(Site.FIRST).orElseThrow());
    sites.addAll(
        first.dsl().selectFrom(SITE).where(SITE.NAME.ne(Site.FIRST)).orderBy(SITE.TITLE, SITE.NAME)
            .fetch(SiteStore::toSite));
    return sites;
  }

  /** The site of this name, if there is one. */
  public Optional<Site> site(String name) {
    if (!Site.isName(name)) {
      return Optional.empty();
    }
    Optional<Site> kept = first.dsl().selectFrom(SITE).where(SITE.NAME.eq(name)).fetchOptional(SiteStore::toSite);
    // an installation has its first site before anybody writes so
    return kept.or(() -> Optional.of(name).filter(Site.FIRST::equals).map(n -> new Site(n, "")));
  }

  /**
   * Adds a site and makes its tables. Running nodes serve it from the next request on that asks for it.
   *
   * @return false, with nothing changed, if there is one of this name
   */
  public boolean add(Site site) {
    if (site(site.name()).isPresent()) {
      return false;
    }
    try {
      // the tables come first: whoever sees the site finds them
      first.schema(site.schema());
      insert(site, site.schema());
      return true;
    } catch (IntegrityConstraintViolationException e) {
      return false; // another node was faster
    }
  }

  private void insert(Site site, String schema) {
    first.dsl().insertInto(SITE)
        .set(SITE.NAME, site.name())
        .set(SITE.SCHEMA_NAME, schema)
        .set(SITE.TITLE, site.title())
        .set(SITE.ADDED_AT, clock.instant())
        .execute();
    changed.run();
  }

  /** Gives a site another title; does nothing if there is none of that name. */
  public void rename(Site renamed) {
    int there = update(renamed);
    if (there == 0 && renamed.isFirst()) {
      try {
        insert(renamed, first.schema());
      } catch (IntegrityConstraintViolationException e) {
        update(renamed); // named from another node at the same moment
      }
    }
  }

  private int update(Site renamed) {
    int there = first.dsl().update(SITE).set(SITE.TITLE, renamed.title()).where(SITE.NAME.eq(renamed.name())).execute();
    changed.run();
    return there;
  }

  /** A site's tables, migrated as needed: the first site's are those that this store was made with. */
  public Database open(Site site) {
    return site.isFirst() ? first : first.schema(site.schema());
  }

  private static Site toSite(Record row) {
    return new Site(row.get(SITE.NAME), row.get(SITE.TITLE));
  }
}
