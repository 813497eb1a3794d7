package ferrule.app;

import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import ferrule.upkeep.Address;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;

/** Recomputes the log of every site of an installation, as after a restore or a move. */
final class RecordCheck {

  private RecordCheck() {}

  /**
   * A line for each site, from a database that is migrated as needed.
   *
   * @throws IllegalStateException if a log has been touched; the message says which record
   */
  static List<String> everySite(Address address) {
    List<String> lines = new ArrayList<>();
    try (Database first = Database.open(address.url(), address.user(), address.password())) {
      SiteStore sites = new SiteStore(first, Clock.systemUTC());
      for (Site site : sites.all()) {
        Database tables = sites.open(site);
        LogCheck.Result result = new LedgerStore(tables)
            .check(HeadStore.witnesses(tables), VerifyCommand.vouched(tables), done -> {});
        if (result instanceof LogCheck.Touched touched) {
          throw new IllegalStateException(
              "the log of the site " + site.name() + " is TOUCHED at record " + touched.number() + ": "
                  + touched.sentence());
        }
        lines.add("site " + site.name() + ": " + ((LogCheck.Sound) result).head().size()
            + " signed records, none altered, removed or inserted");
      }
    }
    return lines;
  }
}
