package ferrule.app;

import ferrule.site.Site;
import ferrule.site.SiteStore;
import ferrule.store.Database;
import java.time.Clock;
import java.util.stream.Collectors;
import picocli.CommandLine.Option;

/** The option that says which of an installation's sites a command is about. */
final class SiteOption {

  @Option(
      names = "--site",
      paramLabel = "NAME",
      defaultValue = Site.FIRST,
      description = "Which programme, where the installation serves several, as “site list” names it (default: "
          + "${DEFAULT-VALUE}).")
  private String name;

  /**
   * The site that is meant.
   *
   * @param first the tables of the first site
   * @throws IllegalStateException if there is none of that name; the message names those that there are
   */
  Site of(Database first) {
    SiteStore sites = new SiteStore(first, Clock.systemUTC());
    return sites.site(name).orElseThrow(() -> new IllegalStateException(
        "there is no site " + name + "; there are: "
            + sites.all().stream().map(Site::name).collect(Collectors.joining(", "))));
  }

  /** The tables of the site that is meant; an {@link IllegalStateException} as in {@link #of}. */
  Database tables(Database first) {
    return new SiteStore(first, Clock.systemUTC()).open(of(first));
  }
}
