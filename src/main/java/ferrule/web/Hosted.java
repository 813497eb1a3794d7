package ferrule.web;

import ferrule.people.PeopleStore;
import ferrule.site.Site;
import java.util.List;

/**
 * One site as the server shows it.
 *
 * @param site which it is
 * @param people those who sign in there
 * @param pages its features
 * @param trail who is told of each request
 */
public record Hosted(Site site, PeopleStore people, List<Pages> pages, Trail trail) {

  /** Copies the list. */
  public Hosted {
    pages = List.copyOf(pages);
  }

  /** One of whose requests nobody keeps a trail. */
  public Hosted(Site site, PeopleStore people, List<Pages> pages) {
    this(site, people, pages, Trail.NONE);
  }
}
