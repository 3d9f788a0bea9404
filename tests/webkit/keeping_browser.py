#!/usr/bin/python3
"""A plain WebKitGTK browser for WebKitWebDriver that keeps what its pages store.

WebKitGTK's own plain browser gives every driven session a store in memory, which ends with it. This one
keeps everything in the folder that it is given, so that a test can end it and start it again.

    keeping_browser.py FOLDER
"""

import os
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gtk, WebKit2  # noqa: E402, the versions have to be named first


def main(folder):
    manager = WebKit2.WebsiteDataManager(
        base_data_directory=os.path.join(folder, "data"),
        base_cache_directory=os.path.join(folder, "cache"),
    )
    context = WebKit2.WebContext(website_data_manager=manager)
    context.set_automation_allowed(True)

    def open_window(_session):
        view = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
        window = Gtk.Window()
        window.set_default_size(360, 740)
        window.add(view)
        window.show_all()
        view.connect("close", lambda _view: window.destroy())
        return view

    def begin(_context, session):
        session.connect("create-web-view", open_window)

    context.connect("automation-started", begin)
    Gtk.main()


main(sys.argv[1])
