package ferrule.web;

import ferrule.site.Site;
import java.util.List;

/**
 * Which site a page belongs to, among those that there are now.
 *
 * @param name of the site
 * @param sites all of them
 */
record Whereabouts(String name, Sites sites) {

  /** The site itself, under the title that it has now. */
  Site here() {
    return sites.all().stream().filter(site -> site.name().equals(name)).findFirst().orElse(new Site(name, ""));
  }

  /** The sites that one can go over to. */
  List<Site> others() {
    return sites.all().stream().filter(site -> !site.name().equals(name)).toList();
  }
}
